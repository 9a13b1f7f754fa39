import { createHash } from 'node:crypto';
import PDFDocument from 'pdfkit';
import { DEFAULT_LIMITS } from '../../model/index.ts';
import type { Limits } from '../../model/index.ts';
import { openBookFrom, pageGeometry } from '../../reading/index.ts';
import { registerFonts } from '../pdf/pdf-fonts.ts';
import type { Setter } from '../pdf/type-setting.ts';
import { assembleCopy } from './assemble-copy.ts';
import type { AssembledCopy } from './assemble-copy.ts';
import { drawCertificate } from './certificate-sheet.ts';
import { requireSameFile } from './copy-order.ts';
import type { CopyOrder, SignedCopyOrder, UnsealedCopyOrder } from './copy-order.ts';
import { openDrawnPages } from './drawn-pages.ts';
import { fileEnd } from './file-end.ts';
import { drawInkSheet } from './ink-sheet.ts';
import { sealFor } from './seal-file.ts';
import { placeSlug } from './slug-place.ts';
import type { SlugPlace } from './slug-place.ts';
import { drawSlug } from './slug-sheet.ts';
import { slugWords } from './slug-words.ts';
import type { SlugSigned } from './slug-words.ts';
import { stampPages } from './stamp-pages.ts';

/**
 * The signed copy of a dummy in force: its own pages, each with a line outside the trim that says what it is and who
 * signed it; a certificate behind them; and the archive's seal on the whole, a signature that PDF programs check.
 * What is new is appended to the file, whose own bytes stay as they are wherever its end allows it. The same order gives
 * the same bytes, but for the seal of an ECDSA key.
 *
 * @throws {Refusal} unproven: the bytes are not the file that was signed; unreadable, too-large: as `openBook`
 * @source ISO 32000-2 7.5.6 and 12.8; judged by poppler and qpdf in test/reporting/signed-copy
 */
export async function makeSignedCopy(order: SignedCopyOrder, limits: Limits = DEFAULT_LIMITS): Promise<Uint8Array> {
  const { key, ...unsealed } = order;
  const { prefix, tail, seal } = await makeUnsealedCopy({ ...unsealed, certificate: key.certificate }, limits);
  if (seal !== null) tail.write(await sealFor(seal, key), seal.at - prefix.length, 'latin1');
  return Buffer.concat([prefix, tail]);
}

/**
 * The same but for its seal, with room for it: what is heavy, and needs no key.
 *
 * @throws {Refusal} as `makeSignedCopy`
 */
export async function makeUnsealedCopy(order: UnsealedCopyOrder, limits: Limits): Promise<AssembledCopy> {
  const signed = { since: order.inForceSince, by: order.signatories };
  return makeCopy(order, limits, signed, {
    draw: (setter, appended) => drawCertificate(setter, order, appended),
    certificate: order.certificate,
  });
}

/**
 * The copy of a file that is printed to be signed in ink: the same lines, without signatories, and room for signatures
 * on the first sheet behind the pages. It is not sealed.
 *
 * @throws {Refusal} unproven: the bytes are not the file that is named; unreadable, too-large: as `openBook`
 */
export async function makePrintCopy(order: CopyOrder, limits: Limits = DEFAULT_LIMITS): Promise<Uint8Array> {
  const { prefix, tail } = await assemblePrintCopy(order, limits);
  return Buffer.concat([prefix, tail]);
}

/**
 * The same in its two parts.
 *
 * @throws {Refusal} as `makePrintCopy`
 */
export async function assemblePrintCopy(order: CopyOrder, limits: Limits): Promise<AssembledCopy> {
  return makeCopy(order, limits, null, { draw: async (setter) => drawInkSheet(setter, order), certificate: null });
}

interface CopyEnd {
  /** Draws the sheets behind the pages and gives their number. */
  readonly draw: (setter: Setter, appended: boolean) => Promise<number>;
  readonly certificate: Uint8Array | null;
}

async function makeCopy(order: CopyOrder, limits: Limits, signed: SlugSigned, end: CopyEnd): Promise<AssembledCopy> {
  const contents = Buffer.from(order.pdf.buffer, order.pdf.byteOffset, order.pdf.byteLength);
  const sha256 = createHash('sha256').update(contents).digest('hex');
  const book = await openBookFrom({ path: order.fileName, contents, sha256 }, limits);
  try {
    requireSameFile(order, book);
    const before = fileEnd(contents);
    const places = order.file.pages.map((_, index) => placeSlug(pageGeometry(book, index + 1)));
    const { pdf, sheetCount } = await drawParts(order, places, signed, (setter) => end.draw(setter, before !== null));
    const drawn = await openDrawnPages(pdf, book.context);
    return assembleCopy({ book, contents, before, at: order.at, certificate: end.certificate }, () =>
      stampPages(book, drawn, places, sheetCount),
    );
  } finally {
    book.close();
  }
}

/** Slugs and sheets, drawn into one document so that they share their fonts: first a page for each slug. */
async function drawParts(
  order: CopyOrder,
  places: readonly SlugPlace[],
  signed: SlugSigned,
  drawSheets: (setter: Setter) => Promise<number>,
): Promise<{ readonly pdf: Uint8Array; readonly sheetCount: number }> {
  const document = new PDFDocument({ autoFirstPage: false, bufferPages: true, info: { CreationDate: new Date(0) } });
  const chunks: Uint8Array[] = [];
  const whole = new Promise<Uint8Array>((resolve, reject) => {
    document.on('data', (chunk: Uint8Array) => chunks.push(chunk));
    document.on('end', () => resolve(Buffer.concat(chunks)));
    document.on('error', reject);
  });
  const setter: Setter = { document, fonts: registerFonts(document) };
  places.forEach((place, index) => {
    document.addPage({ size: [place.widthPt, place.heightPt], margin: 0 });
    drawSlug(setter, place, slugWords(order, signed, index + 1));
  });
  const sheetCount = await drawSheets(setter);
  document.end();
  return { pdf: await whole, sheetCount };
}
