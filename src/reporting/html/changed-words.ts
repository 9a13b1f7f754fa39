import { html } from './markup.ts';
import type { Markup } from './markup.ts';

/** Two wordings with the stretch marked in which they differ; a whole accented letter is never cut in two. */
export function changedWords(words: { readonly before: string; readonly after: string }): {
  readonly before: Markup;
  readonly after: Markup;
} {
  const before = graphemes(words.before);
  const after = graphemes(words.after);
  const most = Math.min(before.length, after.length);
  let head = 0;
  while (head < most && before[head] === after[head]) head += 1;
  let tail = 0;
  while (tail < most - head && before.at(-1 - tail) === after.at(-1 - tail)) tail += 1;
  const mark = (letters: readonly string[]): Markup => {
    if (letters.length === 0) return html`nothing`;
    const changed = letters.slice(head, letters.length - tail).join('');
    const rest = letters.slice(letters.length - tail).join('');
    return html`“${letters.slice(0, head).join('')}${changed !== '' && html`<mark>${changed}</mark>`}${rest}”`;
  };
  return { before: mark(before), after: mark(after) };
}

function graphemes(text: string): readonly string[] {
  return [...new Intl.Segmenter('en', { granularity: 'grapheme' }).segment(text)].map(({ segment }) => segment);
}
