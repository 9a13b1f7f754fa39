import type { Box, Mm } from '../model/index.ts';
import type { FoldedLeaf, FoldedSheet } from './fold.ts';

/** Paper that is cut off around each page, and what the folder and the press need. All in mm. */
export interface Trims {
  readonly headMm: Mm;
  readonly footMm: Mm;
  /** At the fore-edge. */
  readonly faceMm: Mm;
  /** Milled off each leaf's spine before glue. */
  readonly grindOffMm: Mm;
  /** By how much the rear half of a section reaches over its front half at the face, for the stitcher to open it. */
  readonly lipMm: Mm;
  /** Paper around everything, where marks and colour bars stand. */
  readonly marginMm: Mm;
  /** Paper at the sheet's foot that the press holds; the block then stands above it instead of in the middle. */
  readonly gripperMm: Mm | null;
}

/** Usual trims; the head is what two pages head to head share out between them. @source common practice, no source */
export const USUAL_TRIMS: Trims = {
  headMm: 5,
  footMm: 5,
  faceMm: 5,
  grindOffMm: 0,
  lipMm: 0,
  marginMm: 15,
  gripperMm: null,
};

/** Where the trimmed pages of a folded sheet lie before it is folded. */
export interface FormeLayout {
  readonly width: Mm;
  readonly height: Mm;
  /** The box of a leaf's page on the front, without creep. */
  frontBox(leaf: FoldedLeaf): Box;
}

/**
 * Lays the pages of a sheet out: gutters follow from which edges meet, since at a spine nothing is cut (but ground off),
 * at a head, foot or face the trim.
 *
 * @param sheet  the paper; as large as it must be where absent
 */
export function layOutForme(
  folded: FoldedSheet,
  trimmed: { readonly width: Mm; readonly height: Mm },
  trims: Trims,
  sheet?: { readonly width: Mm; readonly height: Mm },
): FormeLayout {
  const { rows, columns, leaves } = folded;
  const across = Array.from({ length: columns }, (_, column): Edges => {
    const leaf = leaves.find((one) => one.column === column)!;
    const face = trims.faceMm + (leaves.indexOf(leaf) >= leaves.length / 2 ? trims.lipMm : 0);
    return leaf.spine === 'left' ? [trims.grindOffMm, face] : [face, trims.grindOffMm];
  });
  const down = Array.from({ length: rows }, (_, row): Edges => {
    const leaf = leaves.find((one) => one.row === row)!;
    return leaf.headUp ? [trims.headMm, trims.footMm] : [trims.footMm, trims.headMm];
  });
  const [lefts, blockWidth] = placesAlong(across, trimmed.width);
  const [tops, blockHeight] = placesAlong(down, trimmed.height);
  const width = sheet?.width ?? blockWidth + 2 * trims.marginMm;
  const height = sheet?.height ?? blockHeight + trims.marginMm + (trims.gripperMm ?? trims.marginMm);
  const left = (width - blockWidth) / 2;
  const top = trims.gripperMm === null ? (height - blockHeight) / 2 : height - trims.gripperMm - blockHeight;
  return {
    width,
    height,
    frontBox: ({ row, column }) => ({ x: left + lefts[column]!, y: top + tops[row]!, ...trimmed }),
  };
}

type Edges = readonly [before: Mm, after: Mm];

/** Where each page begins along an axis, and how long they all are with what is cut between them. */
function placesAlong(edges: readonly Edges[], length: Mm): readonly [starts: readonly Mm[], whole: Mm] {
  const starts: Mm[] = [];
  let at = 0;
  for (const [before, after] of edges) {
    starts.push(at + before);
    at += before + length + after;
  }
  return [starts, at];
}
