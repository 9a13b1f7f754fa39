const SOFT_HYPHENS = /\u00ad/gu;
const LATIN_LIGATURES = /[\ufb00-\ufb06]/gu;

/** Accents that stand alone in old fonts and are meant for the letter they are set over. */
const COMBINING: Readonly<Record<string, string>> = {
  '\u0060': '\u0300',
  '\u00b4': '\u0301',
  '\u02c6': '\u0302',
  '\u005e': '\u0302',
  '\u02dc': '\u0303',
  '\u00af': '\u0304',
  '\u02d8': '\u0306',
  '\u02d9': '\u0307',
  '\u00a8': '\u0308',
  '\u02da': '\u030a',
  '\u02dd': '\u030b',
  '\u02c7': '\u030c',
  '\u00b8': '\u0327',
  '\u02db': '\u0328',
};

/** The combining form of an accent that stands alone, or null for anything else. */
export function combiningAccent(text: string): string | null {
  return COMBINING[text] ?? null;
}

/** A word as it is compared: ligatures of f and s taken apart, soft hyphens dropped, accents joined to their letters. */
export function plainWord(text: string): string {
  return text
    .replace(LATIN_LIGATURES, (ligature) => ligature.normalize('NFKC'))
    .replace(SOFT_HYPHENS, '')
    .normalize('NFC');
}

/** Whether a glyph separates words. */
export function isSpace(text: string): boolean {
  return text !== '' && text.trim() === '';
}
