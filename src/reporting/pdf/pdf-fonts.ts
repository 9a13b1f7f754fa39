import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { printable, spellOut } from '../words/printable.ts';
import { unwrapWoff } from './unwrap-woff.ts';

/** A face of the report's one typeface. */
export type Face = 'text' | 'italic' | 'strong';

/** A stretch of text that one font file can set. */
export interface Run {
  readonly font: string;
  readonly text: string;
}

/** The typeface comes in a file for each script; a line may need several. In the order in which they are asked. */
const SCRIPTS = ['latin', 'latin-ext', 'greek', 'cyrillic', 'cyrillic-ext', 'vietnamese'] as const;
const CUTS: Readonly<Record<Face, string>> = { text: '400-normal', italic: '400-italic', strong: '600-normal' };

/** The fonts of a document: which of them sets which characters. */
export interface PdfFonts {
  runsOf(text: string, face: Face): readonly Run[];
}

/**
 * Registers the typeface with a document. A character that it does not have is spelt out as `[U+6F22]`, so that
 * nothing is lost silently.
 */
export function registerFonts(document: PDFKit.PDFDocument): PdfFonts {
  const covers = new Map<string, (codePoint: number) => boolean>();
  const order = (face: Face): readonly string[] => SCRIPTS.map((script) => `${script}-${CUTS[face]}`);
  for (const name of (['text', 'italic', 'strong'] as const).flatMap(order)) {
    document.registerFont(name, fontNamed(name));
  }
  const covered = (name: string, codePoint: number): boolean => {
    const known = covers.get(name) ?? coverage(document, name);
    covers.set(name, known);
    return known(codePoint);
  };
  const setBy = (character: string, names: readonly string[]): Run => {
    const font = names.find((name) => covered(name, character.codePointAt(0) ?? 0));
    return font === undefined ? { font: names[0] ?? '', text: spellOut(character) } : { font, text: character };
  };
  return {
    runsOf: (text, face) => {
      const names = order(face);
      const runs: { font: string; text: string }[] = [];
      for (const character of printable(text).normalize('NFC')) {
        const run = setBy(character, names);
        const last = runs.at(-1);
        // A space between two words of the same script stays with them.
        if (last !== undefined && (last.font === run.font || character === ' ')) last.text += run.text;
        else runs.push({ ...run });
      }
      return runs;
    },
  };
}

const unwrapped = new Map<string, Buffer>();

/** Read once in the life of a process. */
function fontNamed(name: string): Buffer {
  const { resolve } = createRequire(import.meta.url);
  const font =
    unwrapped.get(name) ??
    unwrapWoff(readFileSync(resolve(`@fontsource/source-serif-4/files/source-serif-4-${name}.woff`)));
  unwrapped.set(name, font);
  return font;
}

/** Asks the opened font which characters it has; pdfkit keeps it in a field that its types do not name. */
function coverage(document: PDFKit.PDFDocument, name: string): (codePoint: number) => boolean {
  document.font(name);
  const { font } = (document as unknown as { _font: { font: { hasGlyphForCodePoint(codePoint: number): boolean } } })
    ._font;
  return (codePoint) => font.hasGlyphForCodePoint(codePoint);
}
