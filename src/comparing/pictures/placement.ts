import type { Matrix, PlacedPicture } from '../../model/index.ts';
import type { Affine, Similarity } from '../registration/similarity.ts';
import { composeAffine, invertAffine, mapPoint } from '../registration/similarity.ts';

/** Proportions that agree so far belong to the same frame, uncropped or cropped alike. */
const SAME_PROPORTION = 0.004;

/**
 * How the content moved if both files place the same frame, from the placements alone, in mm; or null where the data of the
 * two cannot be laid over each other (one was cropped by its exporter, say).
 */
export function comparePlacements(
  dummy: PlacedPicture,
  revision: PlacedPicture,
  centre: { readonly x: number; readonly y: number },
): Similarity | null {
  const same = dummy.samplesHash === revision.samplesHash;
  const proportion = (dummy.pixelWidth * revision.pixelHeight) / (dummy.pixelHeight * revision.pixelWidth);
  if (!same && Math.abs(proportion - 1) > SAME_PROPORTION + 1.5 / Math.min(dummy.pixelWidth, dummy.pixelHeight))
    return null;
  if (fillsExactly(dummy) !== fillsExactly(revision)) return null;
  if (determinant(dummy.matrix) === 0 || determinant(revision.matrix) === 0) return null;
  return similarityOf(composeAffine(invertAffine(dummy.matrix), revision.matrix), centre);
}

const FITS_MM = 0.4;

/** Whether the image ends where its window ends: then an exporter may have cropped it to the window. */
function fillsExactly({ placed, window }: PlacedPicture): boolean {
  return placed.width - window.width < FITS_MM && placed.height - window.height < FITS_MM;
}

function determinant([a, b, c, d]: Matrix): number {
  return a * d - b * c;
}

/** The nearest similarity to an affine map, about a centre. */
function similarityOf(m: Affine, centre: { readonly x: number; readonly y: number }): Similarity {
  const [a, b, c, d] = m;
  const mirrored = a * d - b * c < 0;
  // undo the mirroring about the vertical: the first column changes its sign
  const [p, q] = mirrored ? [-a, -b] : [a, b];
  const cos = (p + d) / 2;
  const sin = (q - c) / 2;
  const [x, y] = mapPoint(m, centre.x, centre.y);
  return {
    centreX: centre.x,
    centreY: centre.y,
    scale: Math.hypot(cos, sin),
    turnRad: Math.atan2(sin, cos),
    mirrored,
    shiftX: x - centre.x,
    shiftY: y - centre.y,
  };
}
