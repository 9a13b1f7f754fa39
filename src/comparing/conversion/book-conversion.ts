import type { PageSignature } from '../../model/index.ts';
import { labFromSrgbBytes } from '../colour/lab.ts';
import type { ColourMap } from './colour-map.ts';
import { fitColourMap, UNCHANGED } from './colour-map.ts';

const MOST_CELLS = 24_000;
/** A page with fewer cells than this has less than one voice. */
const LEAST_CELLS = 30;
/** Paper says nothing about a conversion of pictures. */
const PAPER = 250;

/**
 * What the revision's preparation did to the colours of the whole book, from the small signatures of the paired pages:
 * what most pages agree on is the conversion, and a picture that departs from it was treated apart.
 *
 * @returns the unchanged map where no pages speak
 */
export function fitBookConversion(
  pairs: readonly { readonly dummy: PageSignature; readonly revision: PageSignature }[],
): ColourMap {
  const picked: number[] = [];
  const other: number[] = [];
  const cells = pairs.reduce((sum, { dummy }) => sum + dummy.cells.length / 3, 0);
  const stride = Math.max(1, Math.ceil(cells / MOST_CELLS));
  const weights: number[] = [];
  for (const { dummy, revision } of pairs) {
    const before = picked.length / 3;
    for (let cell = 0; cell < dummy.cells.length / 3; cell += stride) {
      const at = cell * 3;
      const [r, g, b] = [dummy.cells[at]!, dummy.cells[at + 1]!, dummy.cells[at + 2]!];
      if (r > PAPER && g > PAPER && b > PAPER) continue;
      picked.push(r, g, b);
      other.push(revision.cells[at]!, revision.cells[at + 1]!, revision.cells[at + 2]!);
    }
    // every page has one voice, so that one full bleed does not speak for a chapter of small pictures
    const spoken = picked.length / 3 - before;
    const weight = 1 / Math.max(LEAST_CELLS, spoken);
    for (let cell = 0; cell < spoken; cell++) weights.push(weight);
  }
  const dummy = new Float32Array(picked.length);
  const revision = new Float32Array(picked.length);
  labFromSrgbBytes(Uint8Array.from(picked), dummy);
  labFromSrgbBytes(Uint8Array.from(other), revision);
  return fitColourMap({ dummy, revision, weights: Float32Array.from(weights) }, UNCHANGED, 0.002, 30);
}
