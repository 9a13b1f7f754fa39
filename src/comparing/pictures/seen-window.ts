import type { Box, Mm, PageRaster } from '../../model/index.ts';
import { mmFromPx, pxFromMm } from '../../model/index.ts';
import type { Similarity } from '../registration/similarity.ts';
import { affineOf, mapPoint } from '../registration/similarity.ts';
import type { EdgeOnPages } from './edge-profile.ts';
import { edgeProfile, whereItEnds } from './edge-profile.ts';

/** An edge measured so near to where it stood, or to where the content took it, lies there: a pixel and its rim. */
const THERE_MM = 0.3;
/** From the trim an edge tells only where the picture was drawn in. */
const AT_TRIM_MM = 0.15;
/** Content that is turned or mirrored took no upright window along. */
const UPRIGHT_RAD = 0.004;

type EdgeName = 'left' | 'right' | 'top' | 'bottom';

interface Edge {
  readonly name: EdgeName;
  readonly stoodMm: Mm;
  /** Where the content took it. */
  readonly carriedMm: Mm;
  /** Where it is seen; null where picture and ground cannot be told apart there. */
  readonly seenMm: Mm | null;
  readonly atTrim: boolean;
}

/**
 * Where the window of a picture lies on a page that is one picture from edge to edge, and so tells no windows: where what
 * surrounded it on the dummy's page begins. Edges that cannot be seen go with those that can.
 *
 * @param window  on the dummy's page, mm
 * @param map     how the content moved, mm
 * @returns mm on the revision's page; `window` itself where nothing speaks for another
 */
export function seenWindow(
  pages: { readonly dummy: PageRaster; readonly revision: PageRaster },
  window: Box,
  map: Similarity,
): Box {
  if (map.mirrored || Math.abs(map.turnRad) > UPRIGHT_RAD) return window;
  const edges = measureEdges(pages, window, map);
  const told = edges.filter(
    ({ seenMm, stoodMm, carriedMm, atTrim }) => !atTrim && seenMm !== null && Math.abs(carriedMm - stoodMm) > THERE_MM,
  );
  const follows = told.length > 0 && told.every((edge) => placeOf(edge) === edge.carriedMm);
  const places = edges.map((edge): Mm => {
    if (edge.seenMm !== null) return placeOf(edge);
    return follows && !edge.atTrim ? edge.carriedMm : edge.stoodMm;
  });
  if (edges.every(({ stoodMm }, index) => places[index] === stoodMm)) return window;
  const [left, right, top, bottom] = places as [Mm, Mm, Mm, Mm];
  return { x: left, y: top, width: right - left, height: bottom - top };
}

/** Where a seen edge lies: as it stood or as it was carried, where it was measured to lie about there. */
function placeOf({ seenMm, stoodMm, carriedMm }: Edge): Mm {
  const [stood, carried] = [Math.abs(seenMm! - stoodMm), Math.abs(seenMm! - carriedMm)];
  if (Math.min(stood, carried) > THERE_MM) return seenMm!;
  return stood <= carried ? stoodMm : carriedMm;
}

/** Left, right, top, bottom. */
function measureEdges(
  pages: { readonly dummy: PageRaster; readonly revision: PageRaster },
  { x, y, width, height }: Box,
  map: Similarity,
): readonly Edge[] {
  const { ppi } = pages.dummy;
  const m = affineOf(map);
  const [left, top] = mapPoint(m, x, y);
  const [right, bottom] = mapPoint(m, x + width, y + height);
  const across = { from: y, to: y + height, carriedFrom: top, carriedTo: bottom };
  const down = { from: x, to: x + width, carriedFrom: left, carriedTo: right };
  const ends = { width: mmFromPx(pages.dummy.width, ppi), height: mmFromPx(pages.dummy.height, ppi) };
  const edge = (
    name: EdgeName,
    [stoodMm, carriedMm]: readonly [Mm, Mm],
    along: Pick<EdgeOnPages, 'along'>['along'],
    atTrim: boolean,
  ): Edge => {
    const isUpright = name === 'left' || name === 'right';
    const outward = name === 'left' || name === 'top' ? -1 : 1;
    const depthMm = isUpright ? width : height;
    const profile = edgeProfile(pages, { isUpright, outward, stoodMm, carriedMm, along, depthMm, atTrim });
    const off = profile === null ? null : whereItEnds(profile, pxFromMm(Math.abs(carriedMm - stoodMm), ppi));
    return { name, stoodMm, carriedMm, atTrim, seenMm: off === null ? null : carriedMm + outward * mmFromPx(off, ppi) };
  };
  return [
    edge('left', [x, left], across, x <= AT_TRIM_MM),
    edge('right', [x + width, right], across, x + width >= ends.width - AT_TRIM_MM),
    edge('top', [y, top], down, y <= AT_TRIM_MM),
    edge('bottom', [y + height, bottom], down, y + height >= ends.height - AT_TRIM_MM),
  ];
}
