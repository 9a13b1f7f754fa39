import type { Tolerances } from '../../model/index.ts';
import { deltaE00OfValues } from '../colour/ciede2000.ts';
import type { ColourMap } from '../conversion/colour-map.ts';
import { fitColourMap } from '../conversion/colour-map.ts';
import { mapColours } from '../kernels/colour-map.ts';
import { pickCells } from '../kernels/fields.ts';
import { sumOf } from '../sum-of.ts';
import type { LaidOver } from './lay-over.ts';

/** What happened to a picture's colours as a whole. */
export interface ColourChange {
  /** The smooth map that carries this picture's colours over; what it does not explain is local. */
  readonly map: ColourMap;
  readonly meanDeltaE00: number;
  readonly worstDeltaE00: number;
  /** In words what goes beyond a conversion, or null. */
  readonly beyond: string | null;
}

const MOST_PLACES = 3000;

/**
 * Measures how the colours of a registered picture changed, and whether a conversion explains it: a conversion treats all
 * pictures of a file alike, keeps greys grey, keeps colours apart and keeps light lighter than dark.
 *
 * @param book  what the conversion did to the whole book
 */
export function measureColourChange(laid: LaidOver, book: ColourMap, tolerances: Tolerances): ColourChange | null {
  const pairs = samplePlaces(laid);
  if (pairs.weights.length < 20) return null;
  const map = fitColourMap(pairs, book, 0.002, 16);
  const differences = sortedDifferences(pairs);
  const meanDeltaE00 = sumOf(differences) / differences.length;
  const worstDeltaE00 = differences[Math.floor(0.99 * (differences.length - 1))]!;
  return { map, meanDeltaE00, worstDeltaE00, beyond: tellBeyond(pairs, map, book, tolerances) };
}

interface Places {
  readonly dummy: Float32Array;
  readonly revision: Float32Array;
  readonly weights: Float32Array;
}

function samplePlaces({ dummy, revision, speaks }: LaidOver): Places {
  const speaking = sumOf(speaks);
  const cells = pickCells(speaks, Math.max(1, Math.floor(speaking / MOST_PLACES)));
  const count = cells.length;
  const one = new Float32Array(count * 3);
  const other = new Float32Array(count * 3);
  for (let nth = 0, to = 0; nth < count; nth++) {
    const from = cells[nth]! * 3;
    for (let at = from; at < from + 3; at++, to++) {
      one[to] = dummy[at]!;
      other[to] = revision[at]!;
    }
  }
  return { dummy: one, revision: other, weights: new Float32Array(count).fill(1) };
}

function sortedDifferences({ dummy, revision, weights }: Places): Float32Array {
  const out = new Float32Array(weights.length);
  for (let i = 0, at = 0; i < out.length; i++, at += 3) {
    out[i] = deltaE00OfValues(
      dummy[at]!,
      dummy[at + 1]!,
      dummy[at + 2]!,
      revision[at]!,
      revision[at + 1]!,
      revision[at + 2]!,
    );
  }
  return out.sort();
}

/** Darker than this (L*) a hue is hardly seen, and inks cannot keep it. */
const TOO_DARK = 20;

/** How a picture's colours moved, from its fitted map: against the dummy and against the book's conversion. */
interface Drift {
  /** Mean a*, b* shift beyond the book's conversion. */
  readonly castBeyondBook: number;
  /** What is left of the mean a*, b* shift when the picture is allowed to pale. */
  readonly cast: number;
  /** Slope of the revision's a*, b* on the dummy's; 1 keeps, 0 greys. Loose where the picture has one hue only. */
  readonly colourfulness: number;
  /** Mean chroma where there is light: of the dummy, of the revision, and as the book's conversion would have it. */
  readonly litShare: number;
  readonly meanChroma: number;
  readonly chromaNow: number;
  readonly chromaOfBook: number;
  /** Slope of L* on L*; negative for an inversion. */
  readonly contrast: number;
  readonly toneBeyondBook: number;
  readonly tone: number;
  readonly spreadL: number;
}

function measureDrift(pairs: Places, map: ColourMap, book: ColourMap): Drift {
  const count = pairs.weights.length;
  const mine = mapColours(map, pairs.dummy);
  const books = mapColours(book, pairs.dummy);
  let [ba, bb, tone, toneBook] = [0, 0, 0, 0];
  let [sa, sb, ma, mb, cc, cm, sl, ml, sll, slm] = [0, 0, 0, 0, 0, 0, 0, 0, 0, 0];
  let [lit, chroma, chromaNow, chromaOfBook] = [0, 0, 0, 0];
  for (let i = 0, at = 0; i < count; i++, at += 3) {
    const [l, a, b] = [pairs.dummy[at]!, pairs.dummy[at + 1]!, pairs.dummy[at + 2]!];
    const [mineL, mineA, mineB] = [mine[at]!, mine[at + 1]!, mine[at + 2]!];
    const [bookL, bookA, bookB] = [books[at]!, books[at + 1]!, books[at + 2]!];
    ba += mineA - bookA;
    bb += mineB - bookB;
    toneBook += Math.abs(mineL - bookL);
    tone += Math.abs(mineL - l);
    sa += a;
    sb += b;
    ma += mineA;
    mb += mineB;
    cc += a * a + b * b;
    cm += a * mineA + b * mineB;
    if (l > TOO_DARK) {
      lit++;
      chroma += Math.hypot(a, b);
      chromaNow += Math.hypot(mineA, mineB);
      chromaOfBook += Math.hypot(bookA, bookB);
    }
    sl += l;
    ml += mineL;
    sll += l * l;
    slm += l * mineL;
  }
  // regression through the means for tone, through the origin with an offset for colour
  const varC = cc - (sa * sa + sb * sb) / count;
  const colourfulness = varC > 4 * count ? (cm - (sa * ma + sb * mb) / count) / varC : (cm + 1e-6) / (cc + 1e-6);
  const varL = sll - (sl * sl) / count;
  return {
    castBeyondBook: Math.hypot(ba, bb) / count,
    cast: beyondPaling([sa / count, sb / count], [ma / count, mb / count]),
    colourfulness,
    litShare: lit / count,
    meanChroma: chroma / Math.max(1, lit),
    chromaNow: chromaNow / Math.max(1, lit),
    chromaOfBook: chromaOfBook / Math.max(1, lit),
    contrast: varL > 0 ? (slm - (sl * ml) / count) / varL : 1,
    toneBeyondBook: toneBook / count,
    tone: tone / count,
    spreadL: Math.sqrt(varL / count),
  };
}

const PALEST = 0.5;
const STRONGEST = 1.1;

/** How far a mean a*, b* lies from where it may have gone by paling or strengthening a little. */
function beyondPaling(before: readonly [number, number], after: readonly [number, number]): number {
  const own = before[0] ** 2 + before[1] ** 2;
  const along = own === 0 ? 1 : (before[0] * after[0] + before[1] * after[1]) / own;
  const kept = Math.max(PALEST, Math.min(STRONGEST, along));
  return Math.hypot(after[0] - kept * before[0], after[1] - kept * before[1]);
}

/** Chroma under this is a toned grey: a conversion may take it away. */
const COLOURED = 6;
/** Lit parts smaller than this say nothing of the picture as a whole. */
const LIT = 0.1;
/** So little of the dummy's chroma is grey even if the whole book was treated so. */
const GREY_IN_ANY_BOOK = 0.3;
const LESS_THAN_THE_BOOK = 0.6;

function turnedGrey(drift: Drift, { saturationPercent }: Tolerances): boolean {
  const { litShare, meanChroma, chromaNow, chromaOfBook } = drift;
  if (litShare < LIT || meanChroma < COLOURED || chromaNow >= (saturationPercent / 100) * meanChroma) return false;
  return chromaNow < GREY_IN_ANY_BOOK * meanChroma || chromaNow < LESS_THAN_THE_BOOK * chromaOfBook;
}

/** A conversion may brighten or darken a picture by so much L* (uncoated stock: black 12, white 95), no more. */
const TONE_OF_A_CONVERSION = 14;
const TONE_BEYOND_BOOK = 7;
/**
 * A cast of the whole book may be its conversion; beyond so many times the leave it is not. On 137 pictures of five
 * conversions of unchanged books (test/evaluation) it is at most 0.93 times; the weakest planted cast has 1.33.
 */
const CAST_IN_ANY_BOOK = 1.15;
/** Slope of L* on L*: uncoated stock flattens to about 0.8, and no conversion steepens much (common practice, no source). */
const STEEPEST = 1.4;
const FLATTEST = 0.55;

function tellBeyond(pairs: Places, map: ColourMap, book: ColourMap, tolerances: Tolerances): string | null {
  const drift = measureDrift(pairs, map, book);
  if (drift.spreadL > 4 && drift.contrast < -0.1) return 'its tones are inverted';
  if (turnedGrey(drift, tolerances)) return 'its colours were turned to grey or nearly so';
  // saturated colours move furthest in a conversion (common practice, no source)
  const leave = tolerances.castDeltaE + 0.15 * drift.meanChroma;
  if (drift.castBeyondBook > leave || drift.cast > CAST_IN_ANY_BOOK * leave) return 'it has a colour cast';
  if (drift.meanChroma > COLOURED && drift.colourfulness > 1.5 && drift.chromaNow > 1.4 * drift.meanChroma)
    return 'its colours are stronger';
  if (drift.spreadL > 4 && (drift.contrast > STEEPEST || drift.contrast < FLATTEST)) return 'its contrast is changed';
  if (drift.toneBeyondBook > TONE_BEYOND_BOOK || drift.tone > TONE_OF_A_CONVERSION) return 'its tones are changed';
  return null;
}
