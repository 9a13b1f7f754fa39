import type { Box, CutMm, Finding, Mm, PagePoint } from '../../model/index.ts';
import { formatMm } from '../words/figures.ts';
import { formatCut } from '../words/measured-words.ts';

/** What is drawn over a page picture, in mm of the page. Screen and paper draw the same marks. */
export type DrawnMark =
  | { readonly shape: 'box'; readonly box: Box }
  /** A strip along an edge, as wide as what was lost or gained there, with its measure. */
  | { readonly shape: 'band'; readonly box: Box; readonly label: string; readonly at: PagePoint }
  /** Points the way of a shift; its length is not to scale where the shift is too short to see. */
  | { readonly shape: 'arrow'; readonly from: PagePoint; readonly to: PagePoint; readonly label: string };

/** Under this length a shift or a lost edge is not drawn. */
const LEAST_MM = 0.05;

/**
 * The marks of a finding on one side: the box; for a crop, what was lost drawn on the dummy (where it can be seen) and
 * what was gained on the revision, and the way the content went.
 *
 * @param region  the part of the page that is shown
 */
export function drawnMarks(finding: Finding, side: 'dummy' | 'revision', region: Box): readonly DrawnMark[] {
  if (finding.kind === 'page-resized') {
    const { dummyMm, revisionMm } = finding.measured;
    return [{ shape: 'box', box: { x: 0, y: 0, ...(side === 'dummy' ? dummyMm : revisionMm) } }];
  }
  const own =
    side === 'dummy' ? finding.box : (finding.revisionBox ?? (finding.dummyPage === null ? finding.box : null));
  if (own === null) return [];
  if (finding.kind === 'crop-altered') {
    const marks: DrawnMark[] = [{ shape: 'box', box: own }];
    const { cutMm, shiftXmm, shiftYmm } = finding.measured;
    marks.push(...bands(own, cutMm, side, region));
    if (side === 'revision') marks.push(...arrow(own, { x: shiftXmm, y: shiftYmm }, region));
    return marks;
  }
  const marks: DrawnMark[] = [{ shape: 'box', box: roomy(own, region) }];
  if (finding.kind === 'picture-moved' && side === 'revision') {
    marks.push(...arrow(own, { x: finding.measured.shiftXmm, y: finding.measured.shiftYmm }, region));
  }
  return marks;
}

/** A little larger than the thing, so that a hairline or a letter stays visible inside. */
function roomy(box: Box, region: Box): Box {
  const room = 0.008 * Math.max(region.width, region.height);
  return { x: box.x - room, y: box.y - room, width: box.width + 2 * room, height: box.height + 2 * room };
}

function bands(box: Box, cutMm: CutMm, side: 'dummy' | 'revision', region: Box): readonly DrawnMark[] {
  const thinnest = Math.max(region.width, region.height) / 200;
  const right = box.x + box.width;
  const bottom = box.y + box.height;
  const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  return (['left', 'right', 'top', 'bottom'] as const).flatMap((edge) => {
    const cut = cutMm[edge];
    const isHere = side === 'dummy' ? cut >= LEAST_MM : cut <= -LEAST_MM;
    if (!isHere) return [];
    const upright = edge === 'left' || edge === 'right';
    const depth = Math.min(Math.max(Math.abs(cut), thinnest), upright ? box.width : box.height);
    const strip = {
      left: { x: box.x, y: box.y, width: depth, height: box.height },
      right: { x: right - depth, y: box.y, width: depth, height: box.height },
      top: { x: box.x, y: box.y, width: box.width, height: depth },
      bottom: { x: box.x, y: bottom - depth, width: box.width, height: depth },
    }[edge];
    const at = {
      left: { x: box.x + depth, y: middle.y },
      right: { x: right - depth, y: middle.y },
      top: { x: middle.x, y: box.y + depth },
      bottom: { x: middle.x, y: bottom - depth },
    }[edge];
    return [{ shape: 'band', box: strip, label: formatCut(cut), at }];
  });
}

function arrow(box: Box, shift: PagePoint, region: Box): readonly DrawnMark[] {
  const length = Math.hypot(shift.x, shift.y);
  if (length < LEAST_MM) return [];
  const drawn: Mm = Math.max(length, 0.09 * Math.max(region.width, region.height));
  const half = { x: ((shift.x / length) * drawn) / 2, y: ((shift.y / length) * drawn) / 2 };
  const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  return [
    {
      shape: 'arrow',
      from: { x: middle.x - half.x, y: middle.y - half.y },
      to: { x: middle.x + half.x, y: middle.y + half.y },
      label: formatMm(length),
    },
  ];
}
