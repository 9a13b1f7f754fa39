import { squaredDistances } from '../kernels/vectors.ts';
import { coarseDistance } from './descriptor.ts';
import type { Descriptor } from './descriptor.ts';

/** A coarse distance at which no close look finds the same page: measured at most 0.12 for pages that are the same. */
const OUT_OF_SIGHT = 0.8;
/** Of even pages, which are all alike, those nearest by place are looked at. */
const PLACE_SAY = 1e-7;
/** What the quick distance may be off, as a share of it: a hundred roundings of 2^-24, and as much again. */
const ROUNDING = 1e-5;

/** For each page of either file the places in the other of the pages nearest to it, the nearest first. */
export interface NearestPages {
  readonly ofDummy: readonly (readonly number[])[];
  readonly ofRevision: readonly (readonly number[])[];
}

/**
 * The pages nearest to each by a coarse look, as many as `most`, none out of sight. All pages are held against all
 * quickly (in 32 bits), and only those that its rounding leaves in question exactly.
 *
 * @param dummy  null where a page was not drawn, which is near to none; `revision` likewise
 */
export function nearestPages(
  dummy: readonly (Descriptor | null)[],
  revision: readonly (Descriptor | null)[],
  most: number,
): NearestPages {
  const [before, after] = [drawnOf(dummy), drawnOf(revision)];
  const apart = squaredDistances(
    before.pages.map(({ coarse }) => coarse),
    after.pages.map(({ coarse }) => coarse),
  );
  const exactly = (row: number, column: number) => coarseDistance(before.pages[row]!, after.pages[column]!);
  const across = after.pages.length;
  blotOutOfSight(apart, (at) => exactly(Math.floor(at / across), at % across));
  const ofDummy: number[][] = dummy.map(() => []);
  before.places.forEach((place, row) => {
    const line = { values: apart, first: row * across, step: 1, place, places: after.places };
    ofDummy[place] = nearestOn(line, most, (column) => exactly(row, column));
  });
  const ofRevision: number[][] = revision.map(() => []);
  after.places.forEach((place, column) => {
    const line = { values: apart, first: column, step: across, place, places: before.places };
    ofRevision[place] = nearestOn(line, most, (row) => exactly(row, column));
  });
  return { ofDummy, ofRevision };
}

function drawnOf(pages: readonly (Descriptor | null)[]): {
  readonly pages: readonly Descriptor[];
  readonly places: Int32Array;
} {
  const places = [...pages.keys()].filter((place) => pages[place] !== null);
  return { pages: places.map((place) => pages[place]!), places: Int32Array.from(places) };
}

/** Puts infinity for whatever is exactly as far away as that; only what comes near to it has to be looked at again. */
function blotOutOfSight(apart: Float32Array, exactly: (at: number) => number): void {
  for (let at = 0; at < apart.length; at++) {
    const quick = apart[at]!;
    if (quick < OUT_OF_SIGHT * (1 - ROUNDING)) continue;
    if (quick > OUT_OF_SIGHT * (1 + ROUNDING) || exactly(at) >= OUT_OF_SIGHT) apart[at] = Infinity;
  }
}

/** A row or column of the table of quick distances. */
interface Line {
  readonly values: Float32Array;
  readonly first: number;
  readonly step: number;
  /** Of the page itself, in its file. */
  readonly place: number;
  /** Of those along the line, in theirs. */
  readonly places: Int32Array;
}

/** Places of the nearest pages of a line; of two that are equally near the earlier. */
function nearestOn(line: Line, most: number, exactly: (index: number) => number): number[] {
  const { place, places } = line;
  return inQuestion(line, most)
    .map((index) => ({
      place: places[index]!,
      distance: exactly(index) + Math.abs(place - places[index]!) * PLACE_SAY,
    }))
    .sort((a, b) => a.distance - b.distance || a.place - b.place)
    .slice(0, most)
    .map((found) => found.place);
}

/** Indices of all that may be among the nearest: not surely further away than `most` others surely are. */
function inQuestion({ values, first, step, place, places }: Line, most: number): number[] {
  const smallest = new Float64Array(most).fill(Infinity);
  for (let index = 0, at = first; index < places.length; index++, at += step) {
    const quick = values[at]!;
    if (quick === Infinity) continue;
    const atMost = quick * (1 + ROUNDING) + Math.abs(place - places[index]!) * PLACE_SAY;
    if (atMost >= smallest[most - 1]!) continue;
    let to = most - 1;
    for (; to > 0 && smallest[to - 1]! > atMost; to--) smallest[to] = smallest[to - 1]!;
    smallest[to] = atMost;
  }
  const limit = smallest[most - 1]!;
  const found: number[] = [];
  for (let index = 0, at = first; index < places.length; index++, at += step) {
    const quick = values[at]!;
    if (quick === Infinity) continue;
    if (quick * (1 - ROUNDING) + Math.abs(place - places[index]!) * PLACE_SAY <= limit) found.push(index);
  }
  return found;
}
