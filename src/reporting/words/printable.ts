/**
 * Text from a file or a file's name, made safe to print: line breaks and tabs become spaces; control characters,
 * those that turn the direction of writing, and broken surrogates are spelt out as `[U+001B]`, so that a name can
 * neither steer a terminal nor pass for another.
 */
export function printable(text: string): string {
  return text
    .replace(/[\t\n\r\u2028\u2029]+/g, ' ')
    .replace(/[\p{Cc}\p{Cs}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff\ufffe\uffff]/gu, spellOut);
}

/** A character by its number in Unicode: `[U+202E]`. */
export function spellOut(character: string): string {
  return `[U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}]`;
}
