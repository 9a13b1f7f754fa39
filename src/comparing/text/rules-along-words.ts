import type { Box, Finding, PageRaster, Word } from '../../model/index.ts';
import { mmFromPx, pxFromMm, uniteBoxes } from '../../model/index.ts';
import { growBox } from '../regions/cover.ts';
import type { InkPlace } from './ink-left.ts';
import { inkLeft, inkOfPlace } from './ink-left.ts';
import type { InkShift } from './ink-overlay.ts';
import { bestShift, STILL } from './ink-overlay.ts';
import { allLinesOf } from './reading-order.ts';
import type { AboutPages } from './text-findings.ts';
import { sayLooksDifferent } from './text-findings.ts';
import { boxAround } from './word-clusters.ts';
import type { InkedPair } from './word-ink.ts';
import { coverOf } from './word-ink.ts';

/**
 * A rule adds so many pixels of ink, on average over the length of a word, in three rows of the raster. Drawing type another
 * way leaves up to 0.03; half a point through type of 10 pt leaves 0.14, a hairline under it 0.1 (measured at 100 ppi).
 */
const LEAST_RULE_PX = 0.08;
/** In these rows it shows along so much of the word: everywhere but where letters lie over it. */
const ALONG = 0.55;
/** Shorter words do not tell a rule from a stroke of a letter. */
const SHORTEST_PX = 8;
/** What is as heavy at the edge of the place, as a share of its heaviest row, goes on beyond: a tint and no rule. */
const GROUND = 0.7;
/** What lies in most rows of a place, as a share of its heaviest, is no rule either. */
const SPREAD = 0.3;
/** A rule may run along the edge of a word's box. */
const RIM_MM = 0.3;

/** A rule adds at least so much to the pixels that letters cover; another tone of the type adds nothing. */
const MORE_COVER = 0.04;
/** Words with a rule on them have it around them too. */
const MARGIN_MM = 1.5;
/** A rule goes on where the pixels of both pages differ by more than this, in levels over all channels. */
const GOES_ON = 24;

/** Rules that came or went on lines of type. */
export interface RulesAlongWords {
  readonly findings: readonly Finding[];
  /** Where they run, also between and beyond the words. */
  readonly spans: readonly Box[];
}

/**
 * Rules drawn through type or along it, or gone from there: struck out, underlined. Letters hide most of such a rule from the
 * comparison of artwork.
 *
 * @param pairs  words that else look the same
 */
export function findRulesAlongWords(
  pairs: readonly InkedPair[],
  rasters: { readonly dummy: PageRaster; readonly revision: PageRaster },
  about: AboutPages,
): RulesAlongWords {
  const partner = new Map<Word, Word>();
  for (const inked of pairs) {
    if (isRuled(rasters, inked)) partner.set(inked.pair.dummy, inked.pair.revision);
  }
  const findings: Finding[] = [];
  const spans: Box[] = [];
  for (const before of allLinesOf([...partner.keys()])) {
    const after = before.map((word) => partner.get(word)!);
    findings.push(sayLooksDifferent(about, before, after, 'a rule on it'));
    spans.push(followRule(rasters, growBox(boxAround(before)!, MARGIN_MM), axisOf(before[0]!)!));
  }
  return { findings, spans };
}

type Axis = 'across' | 'down';

/** Null for type that stands askew. */
function axisOf({ turnDeg }: Word): Axis | null {
  const turn = ((Math.round(turnDeg) % 180) + 180) % 180;
  return turn === 0 ? 'across' : turn === 90 ? 'down' : null;
}

function isRuled(
  rasters: { readonly dummy: PageRaster; readonly revision: PageRaster },
  { pair, dummy, revision }: InkedPair,
): boolean {
  const axis = axisOf(pair.dummy);
  const [before, after] = [coverOf(dummy).pixels, coverOf(revision).pixels];
  if (axis === null || Math.abs(before - after) < MORE_COVER * Math.max(before, after)) return false;
  const place = inkOfPlace(rasters, growBox(pair.dummy.box, RIM_MM));
  if (place === null || ruleIn(place, STILL, axis) < LEAST_RULE_PX) return false;
  return ruleIn(place, bestShift(place.pair, place.window), axis) >= LEAST_RULE_PX;
}

/** A span made longer for as long as the pages differ beyond its ends. */
function followRule(
  { dummy, revision }: { readonly dummy: PageRaster; readonly revision: PageRaster },
  span: Box,
  axis: Axis,
): Box {
  const { ppi } = dummy;
  const [width, height] = [Math.min(dummy.width, revision.width), Math.min(dummy.height, revision.height)];
  const from = (mm: number, most: number): number => Math.max(0, Math.min(most, Math.round(pxFromMm(mm, ppi))));
  const [left, right] = [from(span.x, width), from(span.x + span.width, width)];
  const [top, bottom] = [from(span.y, height), from(span.y + span.height, height)];
  const differs = (x: number, y: number): boolean => {
    const [at, to] = [(y * dummy.width + x) * 3, (y * revision.width + x) * 3];
    let levels = 0;
    for (let channel = 0; channel < 3; channel++) {
      levels += Math.abs(dummy.rgb[at + channel]! - revision.rgb[to + channel]!);
    }
    return levels > GOES_ON;
  };
  const goesOn = (along: number): boolean => {
    const [first, end] = axis === 'across' ? [top, bottom] : [left, right];
    for (let aside = first; aside < end; aside++) {
      if (axis === 'across' ? differs(along, aside) : differs(aside, along)) return true;
    }
    return false;
  };
  let [start, stop] = axis === 'across' ? [left, right] : [top, bottom];
  const most = axis === 'across' ? width : height;
  while (start > 0 && goesOn(start - 1)) start--;
  while (stop < most && goesOn(stop)) stop++;
  const [begin, length] = [mmFromPx(start, ppi), mmFromPx(stop - start, ppi)];
  const followed = axis === 'across' ? { ...span, x: begin, width: length } : { ...span, y: begin, height: length };
  return uniteBoxes(span, followed);
}

/** How much ink three neighbouring rows (or columns) gained or lost all along the word, in pixels; 0 where none did. */
function ruleIn(place: InkPlace, shift: InkShift, along: Axis): number {
  const left = inkLeft(place, shift);
  if (left === null) return 0;
  return Math.max(ruleInInk(left.dummy, place.width, along), ruleInInk(left.revision, place.width, along));
}

function ruleInInk(ink: Float32Array, width: number, along: Axis): number {
  const height = ink.length / width;
  const [length, depth] = along === 'across' ? [width, height] : [height, width];
  const [step, next] = along === 'across' ? [1, width] : [width, 1];
  if (length < SHORTEST_PX) return 0;
  const rows = new Float64Array(depth);
  let most = 0;
  for (let row = 1; row < depth - 1; row++) {
    let [sum, lighter, darker] = [0, 0, 0];
    for (let at = row * next + step, end = row * next + (length - 1) * step; at < end; at += step) {
      rows[row]! += ink[at]!;
      const here = ink[at - next]! + ink[at]! + ink[at + next]!;
      sum += here;
      if (here > 0) lighter++;
      else if (here < 0) darker++;
    }
    const share = (sum > 0 ? lighter : darker) / (length - 2);
    if (share >= ALONG) most = Math.max(most, Math.abs(sum) / (length - 2));
  }
  const weights = rows.map(Math.abs);
  const atTheEdge = Math.max(weights[1]!, weights[depth - 2]!);
  weights.sort();
  const [middle, heaviest] = [weights[depth >> 1]!, weights[depth - 1]!];
  return atTheEdge > GROUND * heaviest || middle > SPREAD * heaviest ? 0 : most;
}
