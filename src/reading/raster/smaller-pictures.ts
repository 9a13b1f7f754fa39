import {
  PDFArray,
  PDFName,
  type PDFDict,
  PDFNumber,
  PDFRawStream,
  PDFRef,
  PDFStream,
  type PDFContext,
} from '@cantoo/pdf-lib';
import { Refusal, type Limits } from '../../model/index.ts';
import type { Book } from '../pdf/book.ts';
import { decodeData, filterSteps } from '../pdf/decode.ts';
import { elementsOf, entryOf, isTrueEntry, numberEntry, resolve } from '../pdf/objects.ts';
import type { HandedPictures } from './handed-pictures.ts';
import { inkColours } from './ink-colours.ts';
import { colouring } from './ink-table.ts';
import { shrinkableLayout, type SampleLayout, type Samples } from './picture-kind.ts';
import { putOnShelf, shelfPlace, takeFromShelf, type PictureShelf, type Shelved } from './picture-shelf.ts';
import { shrinkPicture } from './shrink-picture.ts';
import { printingProfile } from './printing-profile.ts';

/** How many pixels the page shows of a whole picture, across and down its own axes. */
export interface PictureNeed {
  readonly ref: PDFRef;
  readonly width: number;
  readonly height: number;
}

/**
 * Pixels kept for each one that the page shows along an axis. Mean difference from a page averaged down from 800 ppi,
 * after a slight blur, of 255 levels: 0.63 at 1, 0.45 at 1.25, 0.39 at 1.5, and 0.48 for the full data.
 */
const OVERSAMPLING = 1.5;
/**
 * A picture is left as it is up to this many pixels for each one shown. Above 2 the renderer would halve it itself, and
 * be left with hardly more than one, which is blurred wherever it does not fall on the page's own grid.
 */
const FINE_ENOUGH = 1.95;
/**
 * Half of a picture is taken from so many pixels for each one shown, since it costs the least. Mean difference as above of
 * three JPEGs at 285, 290, 320 and 350 ppi: 0.69, 0.67, 0.58 and 0.48, where exactly 1.5 had 0.66, 0.63, 0.51 and 0.52, and the
 * full data 0.80, 0.79, 0.71 and 0.61.
 */
const HALF_ENOUGH = 1.4;
/** Smaller pictures are left as they are. */
const SMALL_PIXELS = 4096;

/** A picture with one of these is put together with another before it is drawn. */
const WHAT_MASKS = ['SMask', 'Mask', 'SMaskInData'].map((name) => PDFName.of(name));

/**
 * Pictures of a page that are made at once: while one is decoded natively, the colours of another are worked out. A side
 * of a sheet has many, and is waited for by all else.
 */
const AT_ONCE = 2;

interface Work {
  readonly book: Book;
  readonly needs: readonly PictureNeed[];
  readonly pageNumber: number;
  readonly limits: Limits;
  readonly showsPixels: boolean;
  readonly shelf: PictureShelf | null;
  /** Pictures that need not stand in the page's file; null where all are to. */
  readonly handed: HandedPictures | null;
}

/**
 * What takes the place of the pictures of a page: the big ones shrunk, all of them to be drawn smoothly where they are
 * enlarged, those in four inks that were shrunk turned into screen colours. A page drawn with them differs from one
 * drawn from the full data, both blurred slightly, by at most 0.6 of 255 levels in the mean and 10 anywhere. With JPEGs of
 * odd size, which the renderer halves in its own way, it was up to 17.5 anywhere.
 *
 * @param scratch  where the new objects belong; nothing is registered in it
 * @throws {Refusal} too-large: a picture declares more pixels than the limits allow
 */
export async function smallerPictures(work: Work, scratch: PDFContext): Promise<Map<PDFRef, PDFStream>> {
  const needs = largestNeeds(work.needs);
  const made: (readonly (readonly [PDFRef, PDFStream])[])[] = [];
  let next = 0;
  const goOn = async (): Promise<void> => {
    for (let at = next++; at < needs.length; at = next++) {
      const need = needs[at]!;
      const stream = resolve(work.book.context, need.ref);
      made[at] = stream instanceof PDFStream ? await replacements(stream, need, work, scratch) : [];
    }
  };
  try {
    await Promise.all(Array.from({ length: AT_ONCE }, goOn));
  } finally {
    next = needs.length;
  }
  return new Map(made.flat());
}

/** A picture's replacement, and its mask's. */
async function replacements(
  stream: PDFStream,
  need: PictureNeed,
  work: Work,
  scratch: PDFContext,
): Promise<readonly (readonly [PDFRef, PDFStream])[]> {
  const width = numberEntry(stream.dict, 'Width') ?? 0;
  const height = numberEntry(stream.dict, 'Height') ?? 0;
  requireAffordable(width * height, work);
  const maskRef = stream.dict.get(PDFName.of('SMask'));
  const mask = maskRef instanceof PDFRef ? resolve(work.book.context, maskRef) : undefined;
  const size = targetSize(width, height, need);
  const smaller = await shrunk(stream, size, work, scratch);
  const own = [need.ref, smaller ?? smoothed(stream, work, scratch)] as const;
  if (smaller === null || !(maskRef instanceof PDFRef) || !(mask instanceof PDFStream)) return [own];
  requireAffordable((numberEntry(mask.dict, 'Width') ?? 0) * (numberEntry(mask.dict, 'Height') ?? 0), work);
  const maskSize = targetSize(numberEntry(mask.dict, 'Width') ?? 0, numberEntry(mask.dict, 'Height') ?? 0, need);
  const smallerMask = await shrunk(mask, maskSize, work, scratch);
  return smallerMask === null ? [own] : [own, [maskRef, smallerMask]];
}

async function shrunk(
  stream: PDFStream,
  size: { readonly width: number; readonly height: number },
  work: Work,
  scratch: PDFContext,
): Promise<PDFRawStream | null> {
  const layout = stream instanceof PDFRawStream ? shrinkableLayout(stream) : null;
  if (layout === null || !(stream instanceof PDFRawStream)) return null;
  const pixels = layout.pixelWidth * layout.pixelHeight;
  const same = size.width === layout.pixelWidth && size.height === layout.pixelHeight;
  if (pixels < SMALL_PIXELS || (same && !layout.jpeg && layout.channels !== 4)) return null;
  const profile = layout.channels === 4 ? profileOf(stream, work.book) : null;
  const dict = smoothDict(stream, work, scratch);
  const isHanded = work.handed !== null && isTakenAsItIs(dict, layout);
  // what goes to the shelf, or into the file, is of three bytes, and all of it is the picture
  const bytes = isHanded && work.shelf === null && layout.channels === 4 ? 4 : 3;
  const samples = await colouredSamples(stream, { layout, ...size, profile }, work, bytes);
  if (samples === null) return null;
  for (const key of ['Filter', 'DecodeParms', 'Decode', 'Length']) dict.delete(PDFName.of(key));
  dict.set(PDFName.of('Width'), PDFNumber.of(samples.width));
  dict.set(PDFName.of('Height'), PDFNumber.of(samples.height));
  dict.set(PDFName.of('BitsPerComponent'), PDFNumber.of(8));
  if (layout.channels === 4) dict.set(PDFName.of('ColorSpace'), PDFName.of('DeviceRGB'));
  return PDFRawStream.of(dict, isHanded ? work.handed.take(samples) : samples.data);
}

/** Whether the renderer draws a picture's samples as they are, or what has become of four inks. */
function isTakenAsItIs(dict: PDFDict, { channels }: SampleLayout): boolean {
  const isScreenColour = channels === 4 || dict.get(PDFName.of('ColorSpace')) === PDFName.of('DeviceRGB');
  return isScreenColour && WHAT_MASKS.every((key) => dict.get(key) === undefined);
}

/** The picture made smaller, four inks as screen colours of so many bytes a pixel; from the shelf where it is there. */
async function colouredSamples(
  stream: PDFRawStream,
  wanted: Shelved,
  { book, limits, shelf }: Work,
  bytes: 3 | 4,
): Promise<Samples | null> {
  const { layout, width, height, profile } = wanted;
  const place = shelf === null ? null : shelfPlace(shelf, { book, stream }, wanted);
  const channels = layout.channels === 4 ? 3 : layout.channels;
  const known = place === null ? null : await takeFromShelf(place, width * height * channels);
  if (known !== null) return { width, height, data: known };
  const { data } = decodeData(stream.contents, filterSteps(stream.dict), limits.streamBytes);
  const table = layout.channels === 4 ? await inkColours(book.context, profile) : null;
  const coloured =
    table === null
      ? null
      : { colouring: (pixels: number) => colouring(table, pixels, bytes), mayReachOut: bytes === 4 };
  const samples = await shrinkPicture(data, layout, width, height, limits.picturePixels, coloured);
  if (samples !== null && shelf !== null && place !== null) await putOnShelf(shelf, place, samples.data);
  return samples;
}

/** What a picture is shrunk to: itself where that is fine enough, just half where that is, else as many as are kept. */
function targetSize(
  width: number,
  height: number,
  need: PictureNeed,
): { readonly width: number; readonly height: number } {
  const isFineEnough = (size: { readonly width: number; readonly height: number }): boolean =>
    size.width <= need.width * FINE_ENOUGH && size.height <= need.height * FINE_ENOUGH;
  if (isFineEnough({ width, height })) return { width, height };
  const half = { width: Math.ceil(width / 2), height: Math.ceil(height / 2) };
  const isEnough = half.width >= need.width * HALF_ENOUGH && half.height >= need.height * HALF_ENOUGH;
  if (isEnough && isFineEnough(half)) return half;
  return {
    width: Math.max(1, Math.min(width, Math.ceil(need.width * OVERSAMPLING))),
    height: Math.max(1, Math.min(height, Math.ceil(need.height * OVERSAMPLING))),
  };
}

function smoothed(stream: PDFStream, work: Work, scratch: PDFContext): PDFStream {
  const isBitmap = isTrueEntry(stream.dict, 'ImageMask') || numberEntry(stream.dict, 'BitsPerComponent') === 1;
  return isBitmap ? stream : PDFRawStream.of(smoothDict(stream, work, scratch), stream.getContents());
}

/**
 * Enlarged pictures are drawn smoothly, whatever the file says: blocks of pixels would hide where an edge lies. Only
 * where somebody looks for the pixels themselves are they shown.
 */
function smoothDict(stream: PDFStream, { showsPixels }: Work, scratch: PDFContext) {
  const dict = stream.dict.clone();
  dict.set(PDFName.of('Interpolate'), scratch.obj(!showsPixels));
  return dict;
}

/** The profile of a picture in four inks: its own, else that of the print condition; null where the file has none. */
function profileOf({ dict }: PDFStream, book: Book): PDFStream | null {
  const space = entryOf(dict, 'ColorSpace');
  const own = space instanceof PDFArray ? elementsOf(book.context, space)[1] : undefined;
  return own instanceof PDFStream ? own : printingProfile(book);
}

function largestNeeds(needs: readonly PictureNeed[]): readonly PictureNeed[] {
  const largest = new Map<PDFRef, PictureNeed>();
  for (const need of needs) {
    const known = largest.get(need.ref) ?? need;
    largest.set(need.ref, {
      ref: need.ref,
      width: Math.max(known.width, need.width),
      height: Math.max(known.height, need.height),
    });
  }
  return [...largest.values()];
}

function requireAffordable(pixels: number, work: Work): void {
  const { picturePixels } = work.limits;
  if (pixels <= picturePixels) return;
  throw new Refusal('too-large', {
    what: 'a picture',
    limit: picturePixels,
    found: pixels,
    unit: 'pixels',
    page: work.pageNumber,
  });
}
