import type { ProcessInk } from '../../model/index.ts';
import { isProcessInk, PROCESS_INKS } from '../../model/index.ts';
import { correlationOf } from '../correlation.ts';
import type { InkGrid } from './ink-grid.ts';
import { inkDemand } from './ink-demand.ts';
import type { Screen } from './screen-ruling.ts';
import { elsewhere, inkOfColours } from './job-colours.ts';
import type { PlateMarks, UnlikeMarks } from './plate-marks.ts';
import { likenessOfMarks, unlikeMarks } from './plate-marks.ts';
import { colourStep } from './told-by-colours.ts';

/** The plates of a side as far as exchanged ones are told by them. */
export interface InkedSide {
  /** Of the pages that stand there, three bytes a cell. */
  readonly colours: Uint8Array;
  readonly plates: readonly {
    readonly ink: string;
    readonly grid: InkGrid;
    readonly screen: Screen | null;
    readonly marks: PlateMarks | null;
  }[];
}

/** Two plates that stand for each other's ink. */
export interface Exchange {
  /** Index among the sides. */
  readonly side: number;
  readonly inks: readonly [ProcessInk, ProcessInk];
}

/** What the other sides tell must cover this part of a side, and tell the two inks apart by so many levels. */
const TOLD = { share: 0.3, levels: 6 };
/** The difference of two plates goes against what the other sides tell, and not with what the colours themselves tell. */
const AGAINST = { job: -0.6, colours: 0.3 };
/** Put right, two plates are nearer to what the other sides tell by this factor: an empty one alone brings no other nearer. */
const TIMES_NEARER = 1.5;
/** Of two sides nothing tells which is the wrong one. */
const FEWEST_SIDES = 3;
/** Angles that differ by less are one; those of two inks differ by more. */
const ANGLE = { sameDeg: 5, apartDeg: 10, fewestSides: 2 };

/**
 * What two plates of a side have unlike each other beside the pages (patches of a colour bar, names of inks) goes against what
 * the same two have on other sides, which agree; in square millimetres of full ink.
 */
const MARKS = { against: -0.6, agree: 0.6, fewestSides: 2, leastMm2: 20 };

/**
 * Finds plates that stand for each other's ink by the rest of the job: a job is separated, screened and marked in one way, so
 * that what one colour gets of an ink on other sides it gets here, each ink has its angle, and its own patches in the bars.
 *
 * @returns the surest first; what is found later has the earlier ones put right
 */
export function exchangedInJob(sides: readonly InkedSide[]): readonly Exchange[] {
  const found: Exchange[] = [...byAngles(sides)];
  found.push(...byMarks(found.reduce(putRight, sides)));
  let put = found.reduce(putRight, sides);
  const most = sides.length * 2;
  while (found.length < most) {
    const next = surest(put);
    if (next === null) break;
    found.push(next);
    put = putRight(put, next);
  }
  return found;
}

/** The sides with two plates in each other's place. */
export function putRight(sides: readonly InkedSide[], { side, inks }: Exchange): readonly InkedSide[] {
  const own = sides[side]!;
  const [one, other] = inks;
  const plates = own.plates.map((plate) => ({
    ...plate,
    ink: plate.ink === one ? other : plate.ink === other ? one : plate.ink,
  }));
  return sides.with(side, { ...own, plates });
}

function pairsOf({ plates }: InkedSide): readonly (readonly [ProcessInk, ProcessInk])[] {
  return inPairs(plates.flatMap(({ ink }) => (isProcessInk(ink) ? [ink] : [])));
}

function inPairs(inks: readonly ProcessInk[]): readonly (readonly [ProcessInk, ProcessInk])[] {
  return inks.flatMap((one, index) => inks.slice(index + 1).map((other) => [one, other] as const));
}

function byAngles(sides: readonly InkedSide[]): readonly Exchange[] {
  const angleOn = (side: InkedSide, ink: ProcessInk): number | null =>
    side.plates.find((plate) => plate.ink === ink)?.screen?.angleDeg ?? null;
  const usual = (ink: ProcessInk, but: number): number | null => {
    const angles = sides.flatMap((side, index) => (index === but ? [] : (angleOn(side, ink) ?? [])));
    const agreeing = angles.map((angle) => angles.filter((other) => between(angle, other) <= ANGLE.sameDeg).length);
    const most = Math.max(0, ...agreeing);
    return most >= ANGLE.fewestSides && 2 * most > angles.length ? angles[agreeing.indexOf(most)]! : null;
  };
  return sides.flatMap((own, side) =>
    pairsOf(own).flatMap((inks): Exchange[] => {
      const [here, usually] = [inks.map((ink) => angleOn(own, ink)), inks.map((ink) => usual(ink, side))];
      const [a, b, usualA, usualB] = [here[0]!, here[1]!, usually[0]!, usually[1]!];
      if ([a, b, usualA, usualB].includes(null as never)) return [];
      const crossed = between(a, usualB) <= ANGLE.sameDeg && between(b, usualA) <= ANGLE.sameDeg;
      return crossed && between(usualA, usualB) > ANGLE.apartDeg ? [{ side, inks }] : [];
    }),
  );
}

function byMarks(sides: readonly InkedSide[]): readonly Exchange[] {
  const pairs = inPairs(PROCESS_INKS);
  const found = pairs.flatMap((inks) => {
    const marks = sides.map((side) => marksApart(side, inks));
    return marks.flatMap((here, side) => {
      if (here === null) return [];
      const others = marks.flatMap((there, index) => (there === null || index === side ? [] : [there]));
      const opposed = others.filter((there) => likenessOfMarks(here, there) <= MARKS.against);
      const agree = opposed.slice(1).every((there) => likenessOfMarks(opposed[0]!, there) >= MARKS.agree);
      return agree && opposed.length >= MARKS.fewestSides && 2 * opposed.length > others.length ? [{ side, inks }] : [];
    });
  });
  // of two pairs with a plate in common neither is sure
  const shares = (one: Exchange, other: Exchange): boolean =>
    one !== other && one.side === other.side && one.inks.some((ink) => other.inks.includes(ink));
  return found.filter((one) => !found.some((other) => shares(one, other)));
}

/** What the plates of two inks have unlike each other beside the pages; null where that is hardly anything, or not known. */
function marksApart({ plates }: InkedSide, inks: readonly [ProcessInk, ProcessInk]): UnlikeMarks | null {
  const [one, other] = inks.map((ink) => plates.find((plate) => plate.ink === ink)?.marks ?? null);
  const marks = one == null || other == null ? null : unlikeMarks(one, other);
  const mm2 = marks === null ? 0 : marks.ink.reduce((sum, ink) => sum + Math.abs(ink), 0) / 255;
  return mm2 < MARKS.leastMm2 ? null : marks;
}

/** Of two directions of rows, which repeat every 90 degrees. */
function between(one: number, other: number): number {
  const apart = Math.abs(one - other) % 90;
  return Math.min(apart, 90 - apart);
}

function surest(sides: readonly InkedSide[]): Exchange | null {
  if (sides.length < FEWEST_SIDES) return null;
  const tables = new Map(PROCESS_INKS.map((ink) => [ink, sides.map((side) => inkOfColours(side, ink))]));
  let best: { readonly exchange: Exchange; readonly score: number } | null = null;
  sides.forEach((own, side) => {
    const told = new Map([...tables].map(([ink, all]) => [ink, elsewhere(all, side)]));
    for (const inks of pairsOf(own)) {
      const score = scoreOf(own, inks, [told.get(inks[0])!, told.get(inks[1])!]);
      if (score !== null && (best === null || score < best.score)) best = { exchange: { side, inks }, score };
    }
  });
  return (best as { readonly exchange: Exchange } | null)?.exchange ?? null;
}

/** How surely two plates stand for each other's ink, the lower the surer; null where they do not, or nothing tells. */
function scoreOf(
  { colours, plates }: InkedSide,
  inks: readonly [ProcessInk, ProcessInk],
  told: readonly [Float32Array, Float32Array],
): number | null {
  const [one, other] = inks.map((ink) => plates.find((plate) => plate.ink === ink)!.grid) as [InkGrid, InkGrid];
  const cells = one.length;
  let [named, exchanged] = [0, 0];
  const job = new Sums();
  const plain = new Sums();
  for (let at = 0; at < cells; at++) {
    const here = one[at]! - other[at]!;
    const step = colourStep(colours, at);
    const [ofOne, ofOther] = [told[0][step]!, told[1][step]!];
    if (!Number.isNaN(ofOne - ofOther)) {
      job.add(here, ofOne - ofOther);
      named += Math.abs(one[at]! - ofOne) + Math.abs(other[at]! - ofOther);
      exchanged += Math.abs(one[at]! - ofOther) + Math.abs(other[at]! - ofOne);
    }
    const [red, green, blue] = [colours[at * 3]!, colours[at * 3 + 1]!, colours[at * 3 + 2]!];
    plain.add(here, inkDemand(inks[0], red, green, blue) - inkDemand(inks[1], red, green, blue));
  }
  const levels = Math.sqrt(job.bb / Math.max(1, job.n));
  if (job.n < TOLD.share * cells || levels < TOLD.levels || named < TIMES_NEARER * exchanged) return null;
  const [byJob, byColours] = [job.likeness(), plain.likeness()];
  // two inks that differ much tell more than two that hardly do
  return byJob <= AGAINST.job && byColours <= AGAINST.colours ? (byJob + byColours) * levels : null;
}

/** How two runs of values go together about zero. */
class Sums {
  n = 0;
  aa = 0;
  bb = 0;
  ab = 0;

  add(a: number, b: number): void {
    this.n += 1;
    this.aa += a * a;
    this.bb += b * b;
    this.ab += a * b;
  }

  /** The cosine of the angle between them. */
  likeness(): number {
    return correlationOf({ n: 1, a: 0, b: 0, aa: this.aa, bb: this.bb, ab: this.ab });
  }
}
