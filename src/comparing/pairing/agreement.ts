import type { Descriptor } from './descriptor.ts';
import { SIGNATURE_SIDE } from '../../model/index.ts';
import { unlikeness } from './page-likeness.ts';
import type { PageTraits } from './page-traits.ts';
import { haveSameWindows } from './picture-traits.ts';

/**
 * How far two pages that stand at the same place agree. `much`: so that it is the same page, altered. `some`: enough if
 * nothing else could be meant. `none`: another page altogether.
 */
export type Agreement = 'much' | 'some' | 'none';

/** Judges two pages that nothing else has paired. Emptied, filled and unreadable pages agree somewhat with any. */
export function agreementOf(dummy: PageTraits, revision: PageTraits): Agreement {
  if (dummy.view.blank !== true && revision.view.blank !== true) {
    const { looks, words, pictures } = unlikeness(dummy, revision);
    if ((words ?? 1) <= 0.8 || (pictures ?? 1) <= 0.8 || (looks ?? 1) <= 0.4) return 'much';
    const [before, after] = [dummy.descriptor(), revision.descriptor()];
    const parts = before === null || after === null ? 0 : partsInCommon(before, after);
    if (parts >= 0.5 || (before !== null && after !== null && haveSameTint(before, after))) return 'much';
    const told = looks !== null || words !== null || pictures !== null;
    if (told && parts < 0.25 && (words ?? 1) > 0.97 && !haveSameWindows(dummy.view.pictures, revision.view.pictures)) {
      return 'none';
    }
  }
  return 'some';
}

/** Levels of 255: lighter is paper, on which pages with little on them are not the same page for that. */
const PAPER = 235;
/** Levels of 255 by which a conversion may move a flat tint. Common practice, no source. */
const SAME_TINT = 40;
/** Share of blocks that must be even on both pages. */
const MOSTLY = 0.8;

/** Whether both pages are one flat tint but for a rim or a spot, such as a black page of which an edge was lost. */
function haveSameTint(one: Descriptor, other: Descriptor): boolean {
  if (Math.max(one.means[0], other.means[0]) > PAPER) return false;
  if (Math.hypot(...one.means.map((mean, plane) => mean - other.means[plane]!)) > SAME_TINT) return false;
  const across = SIGNATURE_SIDE / BLOCK;
  let even = 0;
  for (let block = 0; block < across * across; block++) {
    const first = Math.floor(block / across) * BLOCK * SIGNATURE_SIDE + (block % across) * BLOCK;
    const [a, b] = [blockOf(one, first), blockOf(other, first)];
    if (Math.max(product(a, a), product(b, b)) < SHOWS_SOMETHING * a.length) even++;
  }
  return even >= MOSTLY * across * across;
}

const BLOCK = 4;
/** Squared levels of 255 a cell from which a block shows something. */
const SHOWS_SOMETHING = 25;

/** Of the blocks of a page where either page shows something, the share in which both show the same. */
function partsInCommon(one: Descriptor, other: Descriptor): number {
  const across = SIGNATURE_SIDE / BLOCK;
  let shown = 0;
  let common = 0;
  for (let block = 0; block < across * across; block++) {
    const first = Math.floor(block / across) * BLOCK * SIGNATURE_SIDE + (block % across) * BLOCK;
    const [a, b] = [blockOf(one, first), blockOf(other, first)];
    const [energyA, energyB] = [product(a, a), product(b, b)];
    if (Math.max(energyA, energyB) < SHOWS_SOMETHING * a.length) continue;
    shown++;
    if (product(a, b) > 0.9 * Math.sqrt(energyA * energyB)) common++;
  }
  return shown === 0 ? 0 : common / shown;
}

/** Luminance of one block, less its mean. */
function blockOf({ planes: [light] }: Descriptor, first: number): Float64Array {
  const block = new Float64Array(BLOCK * BLOCK);
  for (let cell = 0; cell < block.length; cell++) {
    block[cell] = light[first + Math.floor(cell / BLOCK) * SIGNATURE_SIDE + (cell % BLOCK)]!;
  }
  const mean = block.reduce((sum, value) => sum + value, 0) / block.length;
  return block.map((value) => value - mean);
}

function product(one: Float64Array, other: Float64Array): number {
  return one.reduce((sum, value, index) => sum + value * other[index]!, 0);
}
