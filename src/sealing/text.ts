import { Refusal } from '../model/index.ts';

/**
 * Characters that change what a reader sees without being seen: controls, half of a pair, marks that turn the
 * direction of writing, and separators of lines. Joiners stay, because scripts need them.
 * @source Unicode 15.1 (2023) chapter 23; the list is common practice, no source
 */
const UNSEEN = /[\p{Cc}\p{Cs}\u200b\u200e\u200f\u2028-\u202e\u2060-\u2069\ufeff]/u;

/**
 * A line of text that reads as it stands, since it will be signed.
 *
 * @throws {Refusal} malformed: empty, with space at an end, or with characters that cannot be seen
 */
export function requireText(text: string, pointer: string): string {
  const unseen = UNSEEN.exec(text)?.[0];
  if (unseen !== undefined) {
    const code = unseen.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0');
    throw new Refusal('malformed', { pointer, expected: 'text that can be seen', found: `U+${code}` });
  }
  if (text === '' || text.trim() !== text) {
    throw new Refusal('malformed', {
      pointer,
      expected: 'text without space at its ends',
      found: text === '' ? 'nothing' : JSON.stringify(text.slice(0, 80)),
    });
  }
  return text;
}
