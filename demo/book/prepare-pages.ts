import sharp from 'sharp';
import { mkdir } from 'node:fs/promises';
import type { Box } from '../../src/model/index.ts';
import { negativeOf } from './negative.ts';
import { cutToMedia } from './placement.ts';
import { preparePicture } from './prepare-picture.ts';
import type { PreparedPicture } from './prepare-picture.ts';
import type { Preparation } from './preparation.ts';
import type { Workshop } from './library.ts';
import { trimOf } from './spec.ts';
import type { BookSpec, PageItem, PageSpec, PictureItem } from './spec.ts';

/** An item ready to be drawn: pictures have their data with them. */
export type PreparedItem = Exclude<PageItem, PictureItem> | ({ readonly kind: 'prepared' } & PreparedPicture);

export interface PreparedPage {
  readonly items: readonly PreparedItem[];
  /** All of the sheet, in mm from the trim's top left. */
  readonly media: Box;
  readonly trim: Box;
  readonly turned?: 90 | 180 | 270;
}

/** Pages that may be prepared ahead of the one that is being written. */
const AHEAD = 3;

/** The pages of a book one after the other, each with its pictures' data. */
export async function* preparePages(
  book: BookSpec,
  how: Preparation,
  workshop: Workshop,
): AsyncGenerator<PreparedPage, void, undefined> {
  sharp.concurrency(1);
  sharp.cache(false);
  await mkdir(workshop.keptFolder, { recursive: true });
  const waiting: Promise<PreparedPage>[] = [];
  for (const page of book.pages) {
    const prepared = preparePage(book, page, how, workshop);
    prepared.catch(() => undefined);
    waiting.push(prepared);
    if (waiting.length > AHEAD) yield await waiting.shift()!;
  }
  for (const page of waiting) yield await page;
}

async function preparePage(
  book: BookSpec,
  page: PageSpec,
  how: Preparation,
  workshop: Workshop,
): Promise<PreparedPage> {
  const upright = trimOf(book, page);
  const quarter = page.turned === 90 || page.turned === 270;
  const size = quarter ? { width: upright.height, height: upright.width } : upright;
  const bleed = how.bleed ? book.bleedMm : 0;
  const trim = { x: 0, y: 0, width: size.width, height: size.height };
  const media = { x: 0 - bleed, y: 0 - bleed, width: size.width + 2 * bleed, height: size.height + 2 * bleed };
  const items: PreparedItem[] = [];
  for (const item of page.items) {
    if (item.kind !== 'picture') {
      items.push(item);
      continue;
    }
    const cut = how.data === 'precropped' && page.turned === undefined ? cutToMedia(item, media) : item;
    if (cut === null) continue;
    const negative = await negativeOf(workshop.library, item.source, workshop.keptFolder);
    items.push({ kind: 'prepared', ...(await preparePicture(cut, negative, how, workshop.keptFolder)) });
  }
  return { items, media, trim, ...(page.turned === undefined ? {} : { turned: page.turned }) };
}
