import { createHash } from 'node:crypto';
import { bookPages, describeBookPage, drawBookPage, keepBytes, PAGE_RENDERER, sidesOf } from '../archive/index.ts';
import type { Archive, BookPage, DrawingTools, KeptPagePicture, SentFile } from '../archive/index.ts';
import { Refusal } from '../model/index.ts';
import type { PageDescription, PageRaster } from '../model/index.ts';

/** Widths in pixels in which pages are drawn for people, from the strip to every pixel of a page of 240 mm at 400 ppi. */
const PAGE_PICTURE_WIDTHS = [160, 320, 640, 1280, 2560, 3840] as const;

/** Of these, what is drawn of a page before anybody asks: strips, spreads, and spreads on fine screens. */
const WIDTHS_AHEAD = [320, 640, 1280] as const;

const MM_PER_INCH = 25.4;

/** Each pixel of a picture of 300 ppi is seen as 4 x 4: finer than any picture of a page as a whole. */
const DETAIL_PPI = 1200;
/** Of a part that is drawn so: two inches square. */
const DETAIL_PX = 2400;

/** Which part of a page, counted from 0 from its top left corner. */
export interface PartOfPage {
  readonly column: number;
  readonly row: number;
}

/** What pictures of pages are drawn with; `pagePicture` needs the same one for all, so that none is drawn twice at once. */
export interface PagePictures {
  /**
   * A page of the whole book that a file stands for, as WebP: drawn once, then kept by its content for every file that
   * shows the same.
   *
   * @param pageNumber  in the whole book, from 1
   * @param width  in pixels: the next larger of `PAGE_PICTURE_WIDTHS` is given
   * @throws {Refusal} not-found: there is no such page
   * @throws {Refusal} out-of-step: the file was not read yet
   * @throws {Refusal} unreadable, too-large, unavailable: the page cannot be drawn
   */
  pagePicture(file: SentFile, pageNumber: number, width: number): Promise<KeptPagePicture>;
  /**
   * A part of a page as WebP, two inches square but at the page's edges, at 1200 ppi, in which each pixel of its pictures
   * is seen. It is drawn when it is asked for, and not kept.
   *
   * @throws {Refusal} not-found: there is no such page or part; else as `pagePicture`
   */
  pageDetail(file: SentFile, pageNumber: number, part: PartOfPage): Promise<PageDetail>;
  /** The same of a side of imposed sheets: a page of the file that was sent, or what its plates print together. */
  sidePicture(file: SentFile, pageNumber: number, width: number): Promise<KeptPagePicture>;
  /**
   * Where the boxes and the pictures of such a page lie.
   *
   * @throws {Refusal} not-found, out-of-step, unreadable, unavailable: as `pagePicture`
   */
  pageLayout(file: SentFile, pageNumber: number): Promise<PageDescription>;
  /**
   * Draws the pages of a file that nobody has looked at yet, each once for the usual widths. A page that cannot be drawn
   * is left to whoever asks for it.
   *
   * @param pool  of workers that stand back behind those who wait for a picture
   * @param mayGoOn  asked before each page; false ends it
   */
  drawAhead(file: SentFile, pool: DrawingTools['pool'], mayGoOn: () => Promise<boolean>): Promise<void>;
}

/** A part of a page as it was drawn, and the content that it shows. */
export interface PageDetail {
  readonly webp: Uint8Array;
  readonly contentHash: string;
}

/**
 * What stands for the picture of a page in its address: SHA-256 of the page's content and of what draws it, with
 * versions. The same name shows the same at every width, so that a browser may keep it without asking again.
 */
export function pictureName(contentHash: string): string {
  return createHash('sha256').update(`${contentHash}\n${PAGE_RENDERER}`).digest('hex');
}

/** Opens the drawing of pages for people. */
export function openPagePictures(
  archive: Pick<Archive, 'blobs' | 'catalogue'>,
  tools: DrawingTools,
  now: () => number,
): PagePictures {
  const inHand = new Map<string, Promise<KeptPagePicture>>();
  const pictureOf = async (page: BookPage, width: number): Promise<KeptPagePicture> => {
    const widthPx = PAGE_PICTURE_WIDTHS.find((known) => known >= width) ?? PAGE_PICTURE_WIDTHS.at(-1) ?? width;
    const contentHash = page.contentHash ?? '';
    const known = await archive.catalogue.pictures.page({ contentHash, widthPx, renderer: PAGE_RENDERER });
    if (known !== null) return known;
    const key = `${contentHash}/${widthPx}`;
    const drawing = inHand.get(key) ?? draw(archive, tools, page, [widthPx], now);
    inHand.set(key, drawing);
    return drawing.finally(() => inHand.delete(key));
  };
  const detailsInHand = new Map<string, Promise<PageDetail>>();
  return {
    async pageDetail(file, pageNumber, part) {
      const page = pageIn(file, await bookPages(archive.catalogue, file), pageNumber);
      const key = `${page.contentHash}/${part.column}/${part.row}`;
      const drawing = detailsInHand.get(key) ?? drawDetail(tools, page, part);
      detailsInHand.set(key, drawing);
      return drawing.finally(() => detailsInHand.delete(key));
    },
    async pagePicture(file, pageNumber, width) {
      return pictureOf(pageIn(file, await bookPages(archive.catalogue, file), pageNumber), width);
    },
    async sidePicture(file, pageNumber, width) {
      return pictureOf(pageIn(file, await sidesOf(archive.catalogue, file), pageNumber), width);
    },
    async drawAhead(file, pool, mayGoOn) {
      for (const page of (await bookPages(archive.catalogue, file)) ?? []) {
        if (page.contentHash === null) continue;
        const widths = await missingWidths(archive, page.contentHash);
        if (widths.length === 0) continue;
        if (!(await mayGoOn())) return;
        await draw(archive, { ...tools, pool }, page, widths, now).catch(refusalOnly);
      }
    },
    pageLayout: async (file, pageNumber) =>
      describeBookPage(tools, pageIn(file, await bookPages(archive.catalogue, file), pageNumber)),
  };
}

async function drawDetail(tools: DrawingTools, page: BookPage, { column, row }: PartOfPage): Promise<PageDetail> {
  const { width, height } = page.trimmed ?? { width: 0, height: 0 };
  const [left, top] = [column * DETAIL_PX, row * DETAIL_PX];
  const px = (mm: number): number => Math.round((mm / MM_PER_INCH) * DETAIL_PPI);
  const part = {
    left,
    top,
    width: Math.min(DETAIL_PX, px(width) - left),
    height: Math.min(DETAIL_PX, px(height) - top),
  };
  if (part.width < 1 || part.height < 1) throw new Refusal('not-found', { what: 'part of the page' });
  const { encodeWebp } = await import('./pictures/shrink.ts');
  const raster = await drawBookPage(tools, page, DETAIL_PPI, part);
  return { webp: await encodeWebp(raster), contentHash: page.contentHash ?? '' };
}

function pageIn(file: SentFile, pages: readonly BookPage[] | null, pageNumber: number): BookPage {
  if (pages === null) {
    throw new Refusal('out-of-step', { what: file.name, named: 'a page of it', current: 'still to be read' });
  }
  const page = pages[pageNumber - 1];
  if (page === undefined) throw new Refusal('not-found', { what: 'page' });
  return page;
}

/** Which of the usual widths are not kept of a page, the widest first. */
async function missingWidths({ catalogue }: Pick<Archive, 'catalogue'>, contentHash: string): Promise<number[]> {
  const missing: number[] = [];
  for (const widthPx of WIDTHS_AHEAD) {
    const known = await catalogue.pictures.page({ contentHash, widthPx, renderer: PAGE_RENDERER });
    if (known === null) missing.unshift(widthPx);
  }
  return missing;
}

function refusalOnly(error: unknown): null {
  if (error instanceof Refusal) return null;
  throw error;
}

/**
 * Draws a page and keeps it in some widths.
 *
 * @param widths  the widest first, in which it is drawn; the others are shrunk from that
 * @returns the widest
 */
async function draw(
  archive: Pick<Archive, 'blobs' | 'catalogue'>,
  tools: DrawingTools,
  page: BookPage,
  widths: readonly number[],
  now: () => number,
): Promise<KeptPagePicture> {
  const widest = widths[0] ?? WIDTHS_AHEAD[0];
  const raster = await drawBookPage(tools, page, (widest / (page.trimmed?.width ?? 1)) * MM_PER_INCH);
  const kept = await keepPicture(archive, page, raster, widest, now());
  for (const widthPx of widths.slice(1)) await keepPicture(archive, page, raster, widthPx, now());
  return kept;
}

async function keepPicture(
  { blobs, catalogue }: Pick<Archive, 'blobs' | 'catalogue'>,
  page: BookPage,
  raster: PageRaster,
  widthPx: number,
  at: number,
): Promise<KeptPagePicture> {
  const { encodeWebp, shrinkTo } = await import('./pictures/shrink.ts');
  // Drawing rounds the width; what is kept has it exactly.
  const longer = Math.round((widthPx * Math.max(raster.width, raster.height)) / raster.width);
  const picture = await shrinkTo(raster, longer);
  const blob = await keepBytes(blobs, await encodeWebp(picture));
  const kept = {
    contentHash: page.contentHash ?? '',
    widthPx,
    heightPx: picture.height,
    renderer: PAGE_RENDERER,
    sha256: blob.sha256,
  };
  await catalogue.together(async (tables) => {
    await tables.blobs.add({ ...blob, at });
    await tables.pictures.addPage(kept);
  });
  return kept;
}
