import type { Box, CutMm, Mm, Tolerances } from '../../model/index.ts';
import type { Similarity } from '../registration/similarity.ts';
import { affineOf, invertAffine, mapPoint } from '../registration/similarity.ts';

/** How a picture's content and window moved, in the report's words; lengths in mm. */
export type GeometryChange =
  | { readonly kind: 'unchanged' }
  | { readonly kind: 'picture-mirrored'; readonly axis: 'horizontal' | 'vertical' }
  | { readonly kind: 'picture-turned'; readonly degrees: number }
  | { readonly kind: 'picture-moved'; readonly shiftXmm: Mm; readonly shiftYmm: Mm }
  | { readonly kind: 'picture-resized'; readonly scale: number }
  | {
      readonly kind: 'crop-altered';
      readonly shiftXmm: Mm;
      readonly shiftYmm: Mm;
      readonly scale: number;
      readonly cutMm: CutMm;
      /** Whether only the window's edges moved and the content stands. */
      readonly edgesOnly: boolean;
    };

/** What is known of a pair of windows and the content in them. Boxes on their pages, clipped to the trim. */
export interface RegisteredWindows {
  readonly dummyWindow: Box;
  readonly revisionWindow: Box;
  readonly dummyPage: { readonly width: Mm; readonly height: Mm };
  readonly revisionPage: { readonly width: Mm; readonly height: Mm };
  /** Dummy content to revision content, about the centre of the dummy's window, in mm. */
  readonly map: Similarity;
  /** What the registration cannot tell, in mm; a shift must exceed it to be claimed. */
  readonly uncertaintyXmm: Mm;
  readonly uncertaintyYmm: Mm;
  readonly scaleUncertainty: number;
  readonly turnUncertaintyDeg: number;
}

/**
 * Says by the most telling word how content and window moved: a window that goes with its content was moved or resized, one
 * that does not was cropped anew. Edges at the trim on both sides tell nothing, since the knife took what lay beyond.
 */
export function explainGeometry(given: RegisteredWindows, tolerances: Tolerances): GeometryChange {
  const { map } = given;
  const turnDeg = (map.turnRad * 180) / Math.PI;
  if (map.mirrored) {
    const upended = Math.abs(Math.abs(turnDeg) - 180) < 45;
    return { kind: 'picture-mirrored', axis: upended ? 'vertical' : 'horizontal' };
  }
  if (claims(turnDeg, given.turnUncertaintyDeg, tolerances.turnDeg))
    return { kind: 'picture-turned', degrees: turnDeg };
  const movedX = claims(map.shiftX, given.uncertaintyXmm, tolerances.cropMm);
  const movedY = claims(map.shiftY, given.uncertaintyYmm, tolerances.cropMm);
  const scaled = claims(map.scale - 1, given.scaleUncertainty, tolerances.scalePercent / 100);
  const edges = compareEdges(given);
  if (!movedX && !movedY && !scaled) {
    const worst = Math.max(...edges.map((edge) => Math.abs(edge.standing)));
    return worst > tolerances.cropMm ? cropAltered(given, true) : { kind: 'unchanged' };
  }
  const free = edges.filter((edge) => !edge.atTrim);
  const follows = free.length > 0 && free.every((edge) => Math.abs(edge.following) <= tolerances.cropMm);
  if (!follows) return cropAltered(given, false);
  if (scaled) return { kind: 'picture-resized', scale: map.scale };
  return { kind: 'picture-moved', shiftXmm: map.shiftX, shiftYmm: map.shiftY };
}

function claims(value: number, uncertainty: number, tolerance: number): boolean {
  return Math.abs(value) > Math.max(tolerance, uncertainty);
}

function cropAltered(given: RegisteredWindows, edgesOnly: boolean): GeometryChange {
  const { map } = given;
  return {
    kind: 'crop-altered',
    shiftXmm: map.shiftX,
    shiftYmm: map.shiftY,
    scale: map.scale,
    cutMm: measureCut(given, edgesOnly),
    edgesOnly,
  };
}

interface Edge {
  /** Cut by the trim in both files, so nothing can be said of it. */
  readonly atTrim: boolean;
  /** How far the revision's edge lies from where the dummy's stood. */
  readonly standing: Mm;
  /** How far it lies from where the content carried the dummy's edge. */
  readonly following: Mm;
}

const AT_TRIM_MM = 0.15;

function compareEdges(given: RegisteredWindows): readonly Edge[] {
  const { dummyWindow: d, revisionWindow: r, dummyPage, revisionPage } = given;
  const m = affineOf(given.map);
  const [left, top] = mapPoint(m, d.x, d.y);
  const [right, bottom] = mapPoint(m, d.x + d.width, d.y + d.height);
  const edge = (dummyEdge: Mm, revisionEdge: Mm, carried: Mm, dummyTrim: boolean, revisionTrim: boolean): Edge => ({
    atTrim: dummyTrim && revisionTrim,
    standing: revisionEdge - dummyEdge,
    following: revisionEdge - carried,
  });
  const fromLeft = (box: Box): boolean => box.x <= AT_TRIM_MM;
  const fromTop = (box: Box): boolean => box.y <= AT_TRIM_MM;
  const toRight = (box: Box, page: { width: Mm }): boolean => box.x + box.width >= page.width - AT_TRIM_MM;
  const toBottom = (box: Box, page: { height: Mm }): boolean => box.y + box.height >= page.height - AT_TRIM_MM;
  return [
    edge(d.x, r.x, left, fromLeft(d), fromLeft(r)),
    edge(d.y, r.y, top, fromTop(d), fromTop(r)),
    edge(d.x + d.width, r.x + r.width, right, toRight(d, dummyPage), toRight(r, revisionPage)),
    edge(d.y + d.height, r.y + r.height, bottom, toBottom(d, dummyPage), toBottom(r, revisionPage)),
  ];
}

/** How much picture is lost at each edge on the dummy's scale: the revision's window carried back to the dummy. */
function measureCut({ dummyWindow: d, revisionWindow: r, map }: RegisteredWindows, edgesOnly: boolean): CutMm {
  const back = edgesOnly ? ([1, 0, 0, 1, 0, 0] as const) : invertAffine(affineOf(map));
  const [left, top] = mapPoint(back, r.x, r.y);
  const [right, bottom] = mapPoint(back, r.x + r.width, r.y + r.height);
  return { left: left - d.x, right: d.x + d.width - right, top: top - d.y, bottom: d.y + d.height - bottom };
}
