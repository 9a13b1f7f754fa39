import type { PDFRef } from '@cantoo/pdf-lib';
import { MM_PER_INCH, type Matrix, type Mm, type Ppi } from '../../model/index.ts';
import { transformPoint } from '../pdf/geometry/matrix.ts';
import type { Placement } from '../pdf/placement.ts';

/** How far a picture is continued over each of its own edges, in parts of its own width or height. */
export interface Continuation {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

type Edge = keyof Continuation;

/** An edge of an upright picture on the page. */
interface PageEdge {
  readonly ref: PDFRef;
  readonly edge: Edge;
  /** Whether it runs along x. */
  readonly level: boolean;
  /** On which side of it the picture lies: 1 for right or below. */
  readonly inside: 1 | -1;
  readonly at: Mm;
  readonly from: Mm;
  readonly to: Mm;
  readonly order: number;
}

/** Edges nearer to each other than this are meant to be one. */
const SAME_PLACE_MM = 0.02;
/** Edges share a line if they run beside each other for at least so much of the shorter. */
const SHARED = 0.5;

/** The unit square's edges, as helper points of the image's own square (y down), and the direction out of it. */
const EDGES: readonly (readonly [
  Edge,
  readonly [number, number],
  readonly [number, number],
  readonly [number, number],
])[] = [
  ['left', [0, 0], [0, 1], [-1, 0.5]],
  ['right', [1, 0], [1, 1], [2, 0.5]],
  ['top', [0, 0], [1, 0], [0.5, -1]],
  ['bottom', [0, 1], [1, 1], [0.5, 2]],
];

/**
 * Pictures that meet edge to edge, such as the strips into which an exporter cut one, and how far the lower one of each
 * pair has to be continued so that no paper shines through where both only half cover a pixel: one pixel.
 *
 * @source common practice, no source
 */
export function joinedEdges(placements: readonly Placement[], ppi: Ppi): ReadonlyMap<PDFRef, Continuation> {
  const edges = singlePlacements(placements).flatMap(edgesOf);
  const lines = new Map<string, PageEdge[]>();
  for (const edge of edges) {
    const key = lineKey(edge, 0);
    lines.set(key, [...(lines.get(key) ?? []), edge]);
  }
  const matrices = new Map(placements.map(({ ref, matrix }) => [ref, matrix]));
  const found = new Map<PDFRef, Continuation>();
  for (const edge of edges) {
    const near = [-1, 0, 1].flatMap((step) => lines.get(lineKey(edge, step)) ?? []);
    const matrix = matrices.get(edge.ref);
    if (matrix === undefined || !near.some((other) => other.order > edge.order && meet(edge, other))) continue;
    const known = found.get(edge.ref) ?? { left: 0, right: 0, top: 0, bottom: 0 };
    found.set(edge.ref, { ...known, [edge.edge]: onePixel(edge.edge, matrix, ppi) });
  }
  return found;
}

/** A picture that is drawn more than once cannot be continued in one place alone. */
function singlePlacements(placements: readonly Placement[]): readonly Placement[] {
  const counts = new Map<PDFRef | null, number>();
  for (const { ref } of placements) counts.set(ref, (counts.get(ref) ?? 0) + 1);
  return placements.filter(
    ({ ref, origin, inPatternOrMask }) => counts.get(ref) === 1 && origin === 'image' && !inPatternOrMask,
  );
}

function edgesOf({ ref, matrix, sequence }: Placement): readonly PageEdge[] {
  if (ref === null) return [];
  return EDGES.flatMap(([edge, start, end, beyond]) => {
    const [one, other, out] = [start, end, beyond].map(([x, y]) => transformPoint(matrix, x, y));
    if (one === undefined || other === undefined || out === undefined) return [];
    const level = Math.abs(one.y - other.y) < SAME_PLACE_MM;
    if (!level && Math.abs(one.x - other.x) >= SAME_PLACE_MM) return [];
    const [at, outside] = level ? [one.y, out.y] : [one.x, out.x];
    const ends = level ? [one.x, other.x] : [one.y, other.y];
    const inside = outside < at ? 1 : -1;
    return [{ ref, edge, level, inside, at, from: Math.min(...ends), to: Math.max(...ends), order: sequence } as const];
  });
}

function lineKey({ level, at }: PageEdge, step: number): string {
  return `${level} ${Math.round(at / SAME_PLACE_MM) + step}`;
}

function meet(one: PageEdge, other: PageEdge): boolean {
  const shared = Math.min(one.to, other.to) - Math.max(one.from, other.from);
  return (
    one.inside !== other.inside &&
    Math.abs(one.at - other.at) <= SAME_PLACE_MM &&
    shared > SHARED * Math.min(one.to - one.from, other.to - other.from)
  );
}

function onePixel(edge: Edge, [a, b, c, d]: Matrix, ppi: Ppi): number {
  const length = edge === 'left' || edge === 'right' ? Math.hypot(a, b) : Math.hypot(c, d);
  return MM_PER_INCH / ppi / length;
}
