import type { Mm } from '../../model/index.ts';
import { correlationOf } from '../correlation.ts';
import type { Grey } from '../grey.ts';
import { softened } from '../grey.ts';
import { medianOf } from '../place-by-words.ts';

/** How far a plate lies beside the others of its side. */
export interface PlateShift {
  readonly x: Mm;
  readonly y: Mm;
}

const TILE_MM = 24;
/** Where hardly anything but marks is on both plates, they are looked for in tiles that hold little else. */
const MARK_TILE_MM = 10;
const MOST_TILES = 48;
/** Plates are looked for this far beside each other. */
const REACH_MM = 3;
/** Mean gradient both ways, in levels, from which a tile has something to hold on to. */
const LEAST_GRADIENT = 0.4;
/** Inks draw different things; where they draw the same, their edges are so alike. */
const LEAST_LIKENESS = 0.4;
/**
 * Marks that all plates have are alike to 0.9 and more. Where enough of these are seen, they alone tell: patches of a colour
 * bar, alike to a half, have their common edges about half a pixel off.
 */
const SAME_DRAWING = 0.85;
const LEAST_TILES = 3;
/** Tiles that agree lie within this of each other. */
const TOGETHER_MM = 0.2;

/**
 * Measures how far the plates of one side lie beside each other, by the edges that they share: marks, frames of pictures.
 * Each is measured against the one with most edges; where that one itself is off, all others are off by the same.
 *
 * @param plates  ink as darkness, of one size and resolution
 * @returns for each plate its shift against where most are; null where it shares too little with the others
 */
export function registerPlates(plates: readonly Grey[]): readonly (PlateShift | null)[] {
  const fields = plates.map((plate) => gradients(softened(plate)));
  const strengths = fields.map(({ across, down }) => meanOf(across) + meanOf(down));
  const anchor = strengths.indexOf(Math.max(...strengths));
  const against = fields.map((field, index): PlateShift | null => {
    if (index === anchor) return { x: 0, y: 0 };
    return shiftBetween(fields[anchor]!, field, plates[index]!.pxPerMm);
  });
  const measured = against.flatMap((shift) => (shift === null ? [] : [shift]));
  if (measured.length < 2) return against.map(() => null);
  // of two plates neither is the wrong one; the anchor stands
  const usual =
    measured.length === 2
      ? { x: 0, y: 0 }
      : { x: lowMedian(measured.map(({ x }) => x)), y: lowMedian(measured.map(({ y }) => y)) };
  return against.map((shift) => (shift === null ? null : { x: shift.x - usual.x, y: shift.y - usual.y }));
}

/** Of an even number the one of the two in the middle that is nearer to 0: one plate alone is off, not three. */
function lowMedian(values: readonly number[]): number {
  const sorted = [...values].sort((one, other) => one - other);
  const [low, high] = [sorted[(sorted.length - 1) >> 1]!, sorted[sorted.length >> 1]!];
  return Math.abs(low) <= Math.abs(high) ? low : high;
}

/** Strength of edges across and down, a byte each. */
interface Gradients {
  readonly width: number;
  readonly height: number;
  readonly across: Uint8Array;
  readonly down: Uint8Array;
}

function gradients({ width, height, data }: Grey): Gradients {
  const across = new Uint8Array(width * height);
  const down = new Uint8Array(width * height);
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1, at = y * width + 1; x < width - 1; x++, at++) {
      across[at] = Math.abs(data[at + 1]! - data[at - 1]!);
      down[at] = Math.abs(data[at + width]! - data[at - width]!);
    }
  }
  return { width, height, across, down };
}

function meanOf(data: Uint8Array): number {
  let sum = 0;
  for (let at = 0; at < data.length; at++) sum += data[at]!;
  return sum / data.length;
}

interface Tile {
  readonly left: number;
  readonly top: number;
  readonly side: number;
  readonly strength: number;
}

function shiftBetween(one: Gradients, other: Gradients, pxPerMm: number): PlateShift | null {
  const [side, markSide] = [TILE_MM, MARK_TILE_MM].map((mm) => Math.round(mm * pxPerMm)) as [number, number];
  return (
    shiftInTiles(one, other, { side, step: side }, pxPerMm) ??
    shiftInTiles(one, other, { side: markSide, step: markSide >> 1 }, pxPerMm)
  );
}

/** What most tiles agree on; null where too few have something to hold on to, or they do not agree. */
function shiftInTiles(one: Gradients, other: Gradients, size: TileSize, pxPerMm: number): PlateShift | null {
  const reach = Math.round(REACH_MM * pxPerMm);
  const found = tilesOf(one, other, size, reach).flatMap((tile) => {
    const best = bestShift(one, other, tile, reach);
    return best === null ? [] : [{ x: best.x / pxPerMm, y: best.y / pxPerMm, like: best.like }];
  });
  const near = (shift: PlateShift): typeof found =>
    found.filter(({ x, y }) => Math.hypot(x - shift.x, y - shift.y) <= TOGETHER_MM);
  const agreeing = found.map(near).reduce((most, group) => (group.length > most.length ? group : most), []);
  if (agreeing.length < LEAST_TILES || agreeing.length * 2 < found.length) return null;
  const alike = agreeing.filter(({ like }) => like >= SAME_DRAWING);
  const telling = alike.length < LEAST_TILES ? agreeing : alike;
  return { x: medianOf(telling.map(({ x }) => x)), y: medianOf(telling.map(({ y }) => y)) };
}

/** In pixels; tiles are looked at every `step`. */
interface TileSize {
  readonly side: number;
  readonly step: number;
}

/** Places in which both plates have edges in both directions, the strongest first; none lies on another. */
function tilesOf(one: Gradients, other: Gradients, { side, step }: TileSize, reach: number): readonly Tile[] {
  const tiles: Tile[] = [];
  for (let top = reach; top + side + reach <= one.height; top += step) {
    for (let left = reach; left + side + reach <= one.width; left += step) {
      const strengths = [one.across, one.down, other.across, other.down].map((field) => {
        let sum = 0;
        for (let y = top; y < top + side; y += 2) {
          for (let x = left, at = y * one.width + left; x < left + side; x += 2, at += 2) sum += field[at]!;
        }
        return (4 * sum) / (side * side);
      });
      const strength = Math.min(...strengths);
      if (strength >= LEAST_GRADIENT) tiles.push({ left, top, side, strength });
    }
  }
  const apart: Tile[] = [];
  for (const tile of tiles.sort((a, b) => b.strength - a.strength)) {
    if (apart.length === MOST_TILES) break;
    const isFree = apart.every(
      ({ left, top }) => Math.max(Math.abs(left - tile.left), Math.abs(top - tile.top)) >= side,
    );
    if (isFree) apart.push(tile);
  }
  return apart;
}

function bestShift(
  one: Gradients,
  other: Gradients,
  tile: Tile,
  reach: number,
): { readonly x: number; readonly y: number; readonly like: number } | null {
  const known = new Map<number, number>();
  const at = (x: number, y: number, step: number): number => {
    const key = ((y + 512) * 1024 + x + 512) * 4 + step;
    const before = known.get(key) ?? likeness(one, other, tile, x, y, step);
    known.set(key, before);
    return before;
  };
  let best = { x: 0, y: 0, like: -1 };
  for (let y = -reach; y <= reach; y++) {
    for (let x = -reach; x <= reach; x++) {
      const like = at(x, y, 3);
      if (like > best.like) best = { x, y, like };
    }
  }
  const near = { ...best, like: -1 };
  for (let y = best.y - 1; y <= best.y + 1; y++) {
    for (let x = best.x - 1; x <= best.x + 1; x++) {
      const like = at(x, y, 1);
      if (like > near.like) Object.assign(near, { x, y, like });
    }
  }
  const { x, y, like } = near;
  if (like < LEAST_LIKENESS || Math.max(Math.abs(x), Math.abs(y)) >= reach) return null;
  return {
    x: x + vertex(at(x - 1, y, 1), like, at(x + 1, y, 1)),
    y: y + vertex(at(x, y - 1, 1), like, at(x, y + 1, 1)),
    like,
  };
}

/** Where a parabola through three values at -1, 0 and 1 has its top. */
function vertex(before: number, here: number, after: number): number {
  const bend = before - 2 * here + after;
  return bend < 0 ? Math.max(-0.5, Math.min(0.5, (before - after) / (2 * bend))) : 0;
}

/** The lesser of the correlations of edges across and of edges down. */
function likeness(one: Gradients, other: Gradients, tile: Tile, x: number, y: number, step: number): number {
  const inside =
    tile.left + x >= 0 &&
    tile.top + y >= 0 &&
    tile.left + x + tile.side <= one.width &&
    tile.top + y + tile.side <= one.height;
  if (!inside) return -1;
  return Math.min(
    correlation(one.across, other.across, one.width, tile, x, y, step),
    correlation(one.down, other.down, one.width, tile, x, y, step),
  );
}

/** Pearson's. @source Pearson 1895 (test/standards/correlation has it of the twin in comparing) */
function correlation(
  a: Uint8Array,
  b: Uint8Array,
  width: number,
  tile: Tile,
  x: number,
  y: number,
  step: number,
): number {
  let [n, sumA, sumB, sumAA, sumBB, sumAB] = [0, 0, 0, 0, 0, 0];
  for (let row = tile.top; row < tile.top + tile.side; row += step) {
    const offset = y * width + x;
    for (let at = row * width + tile.left, end = at + tile.side; at < end; at += step) {
      const p = a[at]!;
      const q = b[at + offset]!;
      n += 1;
      sumA += p;
      sumB += q;
      sumAA += p * p;
      sumBB += q * q;
      sumAB += p * q;
    }
  }
  return correlationOf({ n, a: sumA, b: sumB, aa: sumAA, bb: sumBB, ab: sumAB });
}
