import { createRequire } from 'node:module';
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';

const require = createRequire(import.meta.url);
const SERIF = join(dirname(require.resolve('@fontsource/source-serif-4/package.json')), 'files');
const LIBERATION = join(dirname(require.resolve('pdfjs-dist/package.json')), 'standard_fonts');

/** A font file that holds a part of a face's letters. */
export interface FaceFile {
  readonly name: string;
  readonly path: string;
}

interface Face {
  readonly latin: string;
  /** For the letters beyond Latin-1, where the family is cut into files by alphabet. */
  readonly extended: string;
}

const serif = (cut: string): Face => ({
  latin: join(SERIF, `source-serif-4-latin-${cut}.woff`),
  extended: join(SERIF, `source-serif-4-latin-ext-${cut}.woff`),
});
const sans = (cut: string): Face => {
  const path = join(LIBERATION, `LiberationSans-${cut}.ttf`);
  return { latin: path, extended: path };
};

/** The faces a book may be set in: Source Serif 4 and Liberation Sans, both under the SIL Open Font License. */
const FACES: Readonly<Record<string, Face>> = {
  serif: serif('400-normal'),
  'serif-italic': serif('400-italic'),
  'serif-semibold': serif('600-normal'),
  'serif-bold': serif('700-normal'),
  'serif-light': serif('300-normal'),
  sans: sans('Regular'),
  'sans-bold': sans('Bold'),
  'sans-italic': sans('Italic'),
};

// What the "latin" files hold of what a European text needs: Latin-1, Œ/œ, dashes and quotation marks.
const IN_LATIN = /[\u0000-\u00ff\u0131\u0152\u0153\u2013\u2014\u2018-\u201e\u2022\u2026\u2032\u2033\u2212]/u;

/**
 * A line cut into pieces that each have all their letters in one font file.
 *
 * @throws {Error} a face that does not exist: a mistake in the book, not in a file
 */
export function pieceByFile(text: string, faceName: string): readonly { text: string; file: FaceFile }[] {
  const face = FACES[faceName];
  if (face === undefined) throw new Error(`no face is called ${faceName}`);
  const pieces: { text: string; file: FaceFile }[] = [];
  for (const letter of text) {
    const latin = IN_LATIN.test(letter);
    const path = latin ? face.latin : face.extended;
    const last = pieces.at(-1);
    if (last?.file.path === path) last.text += letter;
    else pieces.push({ text: letter, file: { name: `${faceName}${path === face.latin ? '' : '-ext'}`, path } });
  }
  return pieces;
}

const bytesByPath = new Map<string, Buffer>();

/** Makes a face the document's current one; each file is read once, and put into a document once. */
export function useFace(doc: PDFKit.PDFDocument, file: FaceFile): PDFKit.PDFDocument {
  const bytes = bytesByPath.get(file.path) ?? readFileSync(file.path);
  bytesByPath.set(file.path, bytes);
  return doc.registerFont(file.name, bytes).font(file.name);
}
