const WIDE = /[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Hangul}\u3000-\u303f\uff01-\uff60]/u;
const SEGMENTER = new Intl.Segmenter('en', { granularity: 'grapheme' });

/** Columns that a text takes on a terminal: an accent takes none of its own, an ideograph takes two. */
export function columnsOf(text: string): number {
  let columns = 0;
  for (const { segment } of SEGMENTER.segment(text)) columns += WIDE.test(segment) ? 2 : 1;
  return columns;
}

/** Text in lines of at most `width` columns, broken between words; a longer word is broken within. */
export function wrap(text: string, width: number): readonly string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ').flatMap((whole) => cut(whole, width))) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && columnsOf(longer) > width) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  return [...lines, line];
}

/** Text filled up with spaces to a width in columns. */
export function fill(text: string, width: number): string {
  return text + ' '.repeat(Math.max(0, width - columnsOf(text)));
}

function cut(word: string, width: number): readonly string[] {
  if (columnsOf(word) <= width) return [word];
  const parts: string[] = [];
  let part = '';
  for (const { segment } of SEGMENTER.segment(word)) {
    if (part !== '' && columnsOf(part + segment) > width) {
      parts.push(part);
      part = segment;
    } else part += segment;
  }
  return [...parts, part];
}
