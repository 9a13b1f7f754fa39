import { PDFArray, PDFDict, PDFName, PDFNumber, PDFRawStream, PDFRef, PDFStream } from '@cantoo/pdf-lib';
import type { PDFContext, PDFObject } from '@cantoo/pdf-lib';
import type { Book, PdfRectangle } from '../../reading/index.ts';
import type { DrawnPages } from './drawn-pages.ts';
import type { SlugPlace } from './slug-place.ts';

/** What became of a book's pages. */
export interface StampedPages {
  /** Objects of the file that have a new form. */
  readonly changed: ReadonlySet<PDFRef>;
  /** The new root of the page tree. */
  readonly tree: PDFRef;
  /** The pages behind those of the book. */
  readonly sheets: readonly PDFRef[];
}

/**
 * Gives each page of a book its slug, and hangs the pages, with sheets behind them, into a new page tree. Objects of the
 * file are not changed: what replaces them is assigned in the book's context, and `changed` names it.
 *
 * What the page draws is left as it is but for a clip to what was seen of it until now: the sheet grows, and what lay
 * hidden outside must not come out. The slug is painted first, when the graphics state is untouched.
 */
export function stampPages(
  book: Book,
  drawn: DrawnPages,
  places: readonly SlugPlace[],
  sheetCount: number,
): StampedPages {
  const { context } = book;
  const refs = new Map(context.enumerateIndirectObjects().map(([ref, object]) => [object, ref]));
  const changed = new Set<PDFRef>();
  const tree = context.nextRef();
  const close = context.register(plainStream(context, '\nQ\n'));
  const kids: PDFRef[] = places.map((place, index) => {
    const pageNumber = index + 1;
    const { dict, inherited } = book.page(pageNumber);
    const page = dict.clone(context);
    const { name, resources } = withForm(context, inherited.Resources, drawn.asForm(pageNumber, place.matrix));
    const open = context.register(plainStream(context, opening(name, place.seen)));
    page.set(PDFName.of('Parent'), tree);
    page.set(PDFName.of('MediaBox'), boxOf(context, place.media));
    page.set(PDFName.of('CropBox'), boxOf(context, place.sheet));
    page.set(PDFName.of('BleedBox'), boxOf(context, place.bleed));
    page.set(PDFName.of('TrimBox'), boxOf(context, place.trim));
    if (inherited.Rotate !== undefined) page.set(PDFName.of('Rotate'), inherited.Rotate);
    page.set(PDFName.of('Resources'), resources);
    page.set(PDFName.of('Contents'), context.obj([open, ...contentsOf(context, dict), close]));
    // A page that hangs in the tree twice becomes two: each has its own number.
    const known = refs.get(dict);
    const ref = known === undefined || changed.has(known) ? context.nextRef() : known;
    context.assign(ref, page);
    changed.add(ref);
    return ref;
  });
  const sheets = Array.from({ length: sheetCount }, (_, index) =>
    context.register(drawn.asPage(places.length + index + 1, tree)),
  );
  const all = [...kids, ...sheets];
  context.assign(tree, context.obj({ Type: 'Pages', Kids: all, Count: all.length }));
  return { changed, tree, sheets };
}

function opening(name: string, { x0, y0, x1, y1 }: PdfRectangle): string {
  const clip = [x0, y0, x1 - x0, y1 - y0].map(plainNumber).join(' ');
  return `/Artifact <</Type /Pagination>> BDC q /${name} Do Q EMC\nq ${clip} re W n\n`;
}

/** The page's resources with one form more, under a name that is still free. */
function withForm(
  context: PDFContext,
  inherited: PDFObject | undefined,
  form: PDFRef,
): { readonly name: string; readonly resources: PDFDict } {
  const resources = inherited instanceof PDFDict ? inherited.clone(context) : PDFDict.withContext(context);
  const present = resources.lookup(PDFName.of('XObject'));
  const forms = present instanceof PDFDict ? present.clone(context) : PDFDict.withContext(context);
  let name = 'WitnessSlug';
  while (forms.has(PDFName.of(name))) name += 'x';
  forms.set(PDFName.of(name), form);
  resources.set(PDFName.of('XObject'), forms);
  return { name, resources };
}

function contentsOf(context: PDFContext, page: PDFDict): readonly PDFObject[] {
  const given = page.get(PDFName.of('Contents'));
  const contents = context.lookup(given);
  if (contents instanceof PDFArray) return contents.asArray();
  return contents instanceof PDFStream && given instanceof PDFRef ? [given] : [];
}

function boxOf(context: PDFContext, { x0, y0, x1, y1 }: PdfRectangle): PDFArray {
  return context.obj([x0, y0, x1, y1].map((value) => PDFNumber.of(Number(plainNumber(value)))));
}

/** A stream as it stands, without the library's own compression. */
function plainStream(context: PDFContext, text: string): PDFRawStream {
  return PDFRawStream.of(PDFDict.withContext(context), new TextEncoder().encode(text));
}

/** A number without an exponent, which PDF does not know. */
function plainNumber(value: number): string {
  return `${Number(value.toFixed(5))}`.includes('e') ? '0' : `${Number(value.toFixed(5))}`;
}
