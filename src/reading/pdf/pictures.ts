import { createHash } from 'node:crypto';
import { uniteBoxes } from '../../model/index.ts';
import type { Box, Matrix, PageDescription, PlacedPicture } from '../../model/index.ts';
import type { Book } from './book.ts';
import { pageGeometry } from './boxes.ts';
import { colourSpaceFamily } from './colour-space.ts';
import { effectivePpi, joinCutPictures } from './cut-pictures.ts';
import type { CutPicture, Piece } from './cut-pictures.ts';
import { dataDigest } from './data-digest.ts';
import { filterSteps } from './decode.ts';
import { boundingBox, placedRectangle } from './geometry/polygon.ts';
import { entryOf, numberEntry } from './objects.ts';
import { onPage } from './on-page.ts';
import type { Placement } from './placement.ts';
import { placementsOnPage } from './placements.ts';

/** A window ends at the trim where it reaches over it by less than this: rounding of an exporter. */
const BLEED_FROM_MM = 0.05;

/**
 * The pictures of a page, in drawing order, those cut up by an exporter joined; without those of which nothing shows.
 *
 * @throws {Refusal} as `placementsOnPage`; too-large: samples unfold to more than `limits.streamBytes`
 */
export function describePictures(book: Book, pageNumber: number): readonly PlacedPicture[] {
  return onPage(book, pageNumber, () => {
    const { trimmed } = pageGeometry(book, pageNumber);
    const pieces = placementsOnPage(book, pageNumber).flatMap((placement) => pieceOf(book, placement));
    return joinCutPictures(pieces)
      .flatMap((cut) => pictureOf(cut, trimmed))
      .map((picture, index) => ({ index, ...picture }));
  });
}

function pieceOf(book: Book, placement: Placement): readonly Piece[] {
  const { dict, matrix, window, origin, softMasked, clip, sequence } = placement;
  const pixelWidth = numberEntry(dict, 'Width') ?? 0;
  const pixelHeight = numberEntry(dict, 'Height') ?? 0;
  const placed = boundingBox(placement.outline);
  if (placed === null || !(pixelWidth > 0 && pixelHeight > 0)) return [];
  const filter = filterSteps(dict).at(-1)?.name ?? 'none';
  const isStencil = origin === 'stencil-mask';
  return [
    {
      clip,
      sequence,
      picture: {
        origin,
        samplesHash: dataDigest(book, placement).sha256.toString('hex'),
        pixelWidth,
        pixelHeight,
        bitsPerComponent: isStencil ? 1 : (numberEntry(dict, 'BitsPerComponent') ?? bitsUnder(filter)),
        colourSpace: isStencil ? 'none' : colourSpaceFamily(book.context, entryOf(dict, 'ColorSpace')),
        filter,
        matrix,
        placed,
        window,
        effectivePpi: effectivePpi(matrix, pixelWidth, pixelHeight),
        bleeds: false,
        softMasked,
        pieces: 1,
      },
    },
  ];
}

/** Where the file says no depth: bilevel coders have one bit, JPEG eight; JPEG 2000 says it in its own data. */
function bitsUnder(filter: string): number {
  return filter === 'CCITTFaxDecode' || filter === 'JBIG2Decode' ? 1 : 8;
}

function pictureOf(cut: CutPicture, trimmed: PageDescription['trimmed']): readonly Omit<PlacedPicture, 'index'>[] {
  const windows = cut.pieces.flatMap(({ picture }) => (picture.window === null ? [] : [picture.window]));
  const [first] = cut.pieces;
  if (windows.length === 0 || first === undefined) return [];
  const window = windows.reduce(uniteBoxes);
  const whole = { ...first.picture, window, bleeds: reachesOver(window, trimmed) };
  if (cut.pieces.length === 1) return [whole];
  const matrix = wholeMatrix(cut, first.picture.matrix);
  const hash = createHash('sha256');
  for (const { picture } of cut.pieces) hash.update(Buffer.from(picture.samplesHash, 'hex'));
  return [
    {
      ...whole,
      samplesHash: hash.digest('hex'),
      pixelWidth: cut.pixelWidth,
      pixelHeight: cut.pixelHeight,
      matrix,
      placed: boundingBox(placedRectangle(matrix, 0, 0, 1, 1)) ?? whole.placed,
      effectivePpi: effectivePpi(matrix, cut.pixelWidth, cut.pixelHeight),
      pieces: cut.pieces.length,
    },
  ];
}

/** The top left piece's square, stretched over the whole: from its corner to the far corner of the last piece. */
function wholeMatrix({ rows, columns, pieces }: CutPicture, first: Matrix): Matrix {
  const e = first[4];
  const f = first[5];
  const right = pieces[columns - 1]!.picture.matrix;
  const bottom = pieces[(rows - 1) * columns]!.picture.matrix;
  return [right[4] + right[0] - e, right[5] + right[1] - f, bottom[4] + bottom[2] - e, bottom[5] + bottom[3] - f, e, f];
}

function reachesOver(window: Box, trimmed: PageDescription['trimmed']): boolean {
  return (
    window.x < -BLEED_FROM_MM ||
    window.y < -BLEED_FROM_MM ||
    window.x + window.width > trimmed.width + BLEED_FROM_MM ||
    window.y + window.height > trimmed.height + BLEED_FROM_MM
  );
}
