import { createHash } from 'node:crypto';
import { bookPages, describeBookPage, drawBookPage, keepBytes, PAGE_RENDERER, sidesOf } from '../archive/index.ts';
import type { Archive, BookPage, DrawingTools, KeptPagePicture, SentFile } from '../archive/index.ts';
import { Refusal } from '../model/index.ts';
import type { PageDescription } from '../model/index.ts';

/** Widths in pixels in which pages are drawn for people, from the strip to every pixel of a page of 240 mm at 400 ppi. */
const PAGE_PICTURE_WIDTHS = [160, 320, 640, 1280, 2560, 3840] as const;

const MM_PER_INCH = 25.4;

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
  /** The same of a side of imposed sheets: a page of the file that was sent, or what its plates print together. */
  sidePicture(file: SentFile, pageNumber: number, width: number): Promise<KeptPagePicture>;
  /**
   * Where the boxes and the pictures of such a page lie.
   *
   * @throws {Refusal} not-found, out-of-step, unreadable, unavailable: as `pagePicture`
   */
  pageLayout(file: SentFile, pageNumber: number): Promise<PageDescription>;
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
    const drawing = inHand.get(key) ?? draw(archive, tools, page, widthPx, now);
    inHand.set(key, drawing);
    return drawing.finally(() => inHand.delete(key));
  };
  return {
    async pagePicture(file, pageNumber, width) {
      return pictureOf(pageIn(file, await bookPages(archive.catalogue, file), pageNumber), width);
    },
    async sidePicture(file, pageNumber, width) {
      return pictureOf(pageIn(file, await sidesOf(archive.catalogue, file), pageNumber), width);
    },
    pageLayout: async (file, pageNumber) =>
      describeBookPage(tools, pageIn(file, await bookPages(archive.catalogue, file), pageNumber)),
  };
}

function pageIn(file: SentFile, pages: readonly BookPage[] | null, pageNumber: number): BookPage {
  if (pages === null) {
    throw new Refusal('out-of-step', { what: file.name, named: 'a page of it', current: 'still to be read' });
  }
  const page = pages[pageNumber - 1];
  if (page === undefined) throw new Refusal('not-found', { what: 'page' });
  return page;
}

async function draw(
  { blobs, catalogue }: Pick<Archive, 'blobs' | 'catalogue'>,
  tools: DrawingTools,
  page: BookPage,
  widthPx: number,
  now: () => number,
): Promise<KeptPagePicture> {
  const { encodeWebp, shrinkTo } = await import('./pictures/shrink.ts');
  const raster = await drawBookPage(tools, page, (widthPx / (page.trimmed?.width ?? 1)) * MM_PER_INCH);
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
    await tables.blobs.add({ ...blob, at: now() });
    await tables.pictures.addPage(kept);
  });
  return kept;
}
