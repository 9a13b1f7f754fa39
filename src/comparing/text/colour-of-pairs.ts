import type { Finding, Tolerances } from '../../model/index.ts';
import { labFromSrgb } from '../colour/lab.ts';
import { applyColourMap } from '../conversion/colour-map.ts';
import type { ColourMap } from '../conversion/colour-map.ts';
import { couldBeConverted } from '../conversion/plausible-step.ts';
import { wordPlaces } from './look-of-pairs.ts';
import type { AboutPages } from './text-findings.ts';
import { sayLooksDifferent } from './text-findings.ts';
import { boxAround } from './word-clusters.ts';
import type { InkedPair } from './word-ink.ts';
import { coverOf } from './word-ink.ts';

/** Words of another colour may hide among words that kept theirs: so much of the tolerance makes one suspect. */
const SUSPECT = 0.6;
/** Drawn as letters and as outlines, type covers the same to a tenth. */
const LEAST_COVER = 0.8;
/**
 * Up to this L* and chroma ink is black: one black ink alone, a rich black, black on uncoated stock (common practice, no
 * source).
 */
const BLACK_L = 30;
const BLACK_CHROMA = 14;

/**
 * Words that read the same at the same place in another colour. What a conversion of the book does to colours is no change,
 * and black stays black whatever it is mixed of.
 */
export function findOtherColours(
  pairs: readonly InkedPair[],
  about: AboutPages,
  conversion: ColourMap,
  tolerances: Tolerances,
): ColoursOfPairs {
  const inks = new Map(pairs.map((inked) => [inked.pair.dummy, inked]));
  const suspects = pairs.filter((inked) => isLetters(inked) && changeOf([inked], conversion, tolerances) > SUSPECT);
  const findings: Finding[] = [];
  for (const { dummy: before, revision: after } of wordPlaces(suspects.map(({ pair }) => pair))) {
    const { width, height } = boxAround(before)!;
    if (width * height < tolerances.artworkMm2) continue;
    const inked = before.map((word) => inks.get(word)!);
    if (changeOf(inked, conversion, tolerances) <= 1) continue;
    findings.push(sayLooksDifferent(about, before, after, 'its colour'));
    for (const word of before) inks.delete(word);
  }
  return { findings, kept: [...inks.values()] };
}

/** What was found about the colours of pairs of words. */
export interface ColoursOfPairs {
  readonly findings: readonly Finding[];
  /** Pairs that kept their colour. */
  readonly kept: readonly InkedPair[];
}

/** The same letters cover as many pixels in any colour: where they do not, something else in their place changed. */
function isLetters({ dummy, revision }: InkedPair): boolean {
  if (!dummy.onEvenGround || !revision.onEvenGround) return false;
  const [before, after] = [coverOf(dummy).pixels, coverOf(revision).pixels];
  return Math.min(before, after) >= LEAST_COVER * Math.max(before, after);
}

/** How far the ink of some words changed its colour, as a share of what a flat tint may. */
function changeOf(words: readonly InkedPair[], conversion: ColourMap, tolerances: Tolerances): number {
  const sum = (list: readonly number[]): number => list.reduce((all, value) => all + value, 0);
  const cover = sum(words.map(pixelsOf));
  if (cover === 0) return 0;
  const inkOf = (side: 'dummy' | 'revision') =>
    [0, 1, 2].map((channel) => {
      const paper = sum(words.map((word) => word[side].paper[channel]!)) / words.length;
      const taken = sum(words.map((word) => word[side].total[channel]!)) / cover;
      return Math.max(0, Math.min(255, paper - taken));
    });
  const [dummy, revision] = [labOf(inkOf('dummy')), labOf(inkOf('revision'))];
  if (isBlack(dummy) && isBlack(revision)) return 0;
  const converted = new Float32Array(3);
  applyColourMap(conversion, dummy[0]!, dummy[1]!, dummy[2]!, converted, 0);
  const far = Math.min(
    distance(dummy, revision),
    couldBeConverted(dummy, converted, 0) ? distance(converted, revision) : Infinity,
  );
  // saturated tints move furthest in a conversion (common practice, no source)
  return far / (tolerances.artworkDeltaE + 0.22 * Math.hypot(dummy[1]!, dummy[2]!));
}

/** By the side where they stand out most; 0 where they hardly do. */
function pixelsOf({ dummy, revision }: InkedPair): number {
  const [one, other] = [coverOf(dummy), coverOf(revision)];
  return one.contrast >= other.contrast ? one.pixels : other.pixels;
}

function labOf([r, g, b]: readonly number[]): Float32Array {
  const lab = labFromSrgb(r!, g!, b!);
  return Float32Array.of(lab.l, lab.a, lab.b);
}

function isBlack(lab: Float32Array): boolean {
  return lab[0]! <= BLACK_L && Math.hypot(lab[1]!, lab[2]!) <= BLACK_CHROMA;
}

function distance(one: Float32Array, other: Float32Array): number {
  return Math.hypot(one[0]! - other[0]!, one[1]! - other[1]!, one[2]! - other[2]!);
}
