import type { Box, Finding, Tolerances, Word } from '../../model/index.ts';
import { intersectBoxes, uniteBoxes } from '../../model/index.ts';
import type { ColourMap } from '../conversion/colour-map.ts';
import { UNCHANGED } from '../conversion/colour-map.ts';
import type { PageSide } from '../page-sides.ts';
import { growBox } from '../regions/cover.ts';
import { shortestEdit } from '../sequence/shortest-edit.ts';
import { changedLines, sayChangedLine, spanOfChangedLine } from './changed-lines.ts';
import { findOtherColours } from './colour-of-pairs.ts';
import { inkDiffers } from './ink-difference.ts';
import type { FineRasters } from './judge-shapes.ts';
import { findLoneWords, judgeShapes, STILL_THERE } from './judge-shapes.ts';
import { findOtherLooks, pairReset } from './look-of-pairs.ts';
import { lookAlike } from './look-alike.ts';
import { matchWords } from './match-words.ts';
import { allLinesOf, inReadingOrder } from './reading-order.ts';
import { findRulesAlongWords } from './rules-along-words.ts';
import type { AboutPages } from './text-findings.ts';
import { meanShift, quoteWords, sayReworded, sayWordsMoved } from './text-findings.ts';
import { keepVisible } from './visible-words.ts';
import type { WordCluster } from './word-clusters.ts';
import { boxAround, clusterWords } from './word-clusters.ts';
import { measurePair } from './word-ink.ts';

/** What was found about the text of a page pair. */
export interface TextComparison {
  readonly findings: readonly Finding[];
  /** Places that were judged as text, on either page: the rest of the comparison leaves them alone. */
  readonly judged: readonly Box[];
  /** Set where type without words must be judged by its shapes and the given rasters are too coarse. */
  readonly wantsFine: boolean;
}

/** At the same place and so alike, other words are another spelling of the same shapes in the file, not another text. */
const SAME_SHAPES = 0.997;
const TYPE_MARGIN_MM = 0.3;
const LINE_MARGIN_MM = 1.5;

/**
 * Compares the text of two pages: wording, place and look. Words that both files tell are matched by wording and place; what
 * is left is gathered into places and told as reworded or moved. Words that only one file tells (the other has outlines)
 * are judged by their shapes.
 *
 * @param pictureBoxes  where pictures lie, on either page; type on them is not judged by shapes
 * @param conversion    what was done to the colours of the whole book
 */
export function compareText(
  sides: { readonly dummy: PageSide; readonly revision: PageSide },
  fine: FineRasters,
  pictureBoxes: readonly Box[],
  tolerances: Tolerances,
  conversion: ColourMap = UNCHANGED,
): TextComparison {
  const { dummy, revision } = sides;
  const about = { dummyPage: dummy.facts.pageNumber, revisionPage: revision.facts.pageNumber };
  const match = matchWords(dummy.facts.words, revision.facts.words, tolerances.textPlaceMm);
  const told = { dummy: keepVisible(match.dummyOnly, dummy), revision: keepVisible(match.revisionOnly, revision) };
  const lone = findLoneWords(told.dummy, told.revision, dummy.facts.words, revision.facts.words);
  const shapes = judgeShapes(lone, sides, fine, pictureBoxes, tolerances);
  const findings: Finding[] = [];
  const pairs = [...match.pairs];
  const clusters = clusterWords(shapes.dummy, shapes.revision).filter((cluster) => {
    const reset = pairReset(cluster, sides, pictureBoxes);
    pairs.push(...reset);
    return reset.length === 0;
  });
  let wantsFine = shapes.wantsFine;
  for (const cluster of joinFarMoves(clusters)) {
    const reworded = judgeCluster(cluster, sides, about);
    if (reworded.length > 0 && mayBeSpelling(cluster, sides, pictureBoxes)) {
      if (fine === null) wantsFine = true;
      else if (!inkDiffers(fine, growBox(placeOf(cluster), tolerances.textPlaceMm / 2))) continue;
    }
    findings.push(...reworded);
  }
  const lines = changedLines(shapes.changed);
  for (const line of lines) findings.push(sayChangedLine(line, sides, fine, about, tolerances));
  const looks = findOtherLooks(pairs, sides, about, pictureBoxes, tolerances);
  const rasters = { dummy: dummy.raster, revision: revision.raster };
  const outlined = shapes.same.map((word) => ({ dummy: word, revision: word }));
  const inked = [...looks.redrawn, ...outlined].map((pair) => measurePair(pair, rasters));
  const colours = findOtherColours(inked, about, conversion, tolerances);
  // shapes of outlined words were judged already
  const rules = findRulesAlongWords(
    colours.kept.filter(({ pair }) => pair.dummy !== pair.revision),
    rasters,
    about,
  );
  findings.push(...looks.findings, ...colours.findings, ...rules.findings);
  const words = [...dummy.facts.words, ...revision.facts.words].map(({ box }) => growBox(box, TYPE_MARGIN_MM));
  // letters of a changed line may have moved into what was a gap between words
  const changed = [
    ...lines.map((line) => spanOfChangedLine(line, sides, pictureBoxes)),
    ...allLinesOf(looks.told.map((pair) => pair.dummy)).map((line) => boxAround(line)!),
    ...allLinesOf(looks.told.map((pair) => pair.revision)).map((line) => boxAround(line)!),
  ];
  const spans = changed.map((place) => growBox(place, LINE_MARGIN_MM));
  const judged = [...words, ...spans, ...rules.spans];
  return { findings, judged, wantsFine };
}

/** A line carried far away leaves two places with the same words: one finding. */
function joinFarMoves(clusters: readonly WordCluster[]): readonly WordCluster[] {
  const out = [...clusters];
  for (const from of clusters.filter(({ revision }) => revision.length === 0)) {
    const text = quoteWords(inReadingOrder(from.dummy));
    const to = out.find(({ dummy, revision }) => dummy.length === 0 && quoteWords(inReadingOrder(revision)) === text);
    if (to === undefined) continue;
    out.splice(out.indexOf(from), 1);
    out.splice(out.indexOf(to), 1, { dummy: from.dummy, revision: to.revision });
  }
  return out;
}

/**
 * Whether other words may only be another spelling of the same shapes, as programs leave them that lose track of their
 * fonts' encodings: both files tell words there, which look about alike.
 */
function mayBeSpelling(
  cluster: WordCluster,
  { dummy, revision }: { readonly dummy: PageSide; readonly revision: PageSide },
  pictureBoxes: readonly Box[],
): boolean {
  if (cluster.dummy.length === 0 || cluster.revision.length === 0) return false;
  const place = placeOf(cluster);
  if (pictureBoxes.some((picture) => intersectBoxes(picture, place) !== null)) return false;
  return lookAlike({ dummy: dummy.raster, revision: revision.raster }, place, { xMm: 0, yMm: 0 }) > STILL_THERE;
}

/** Around the words of either side. */
function placeOf({ dummy, revision }: WordCluster): Box {
  const [one, other] = [boxAround(dummy), boxAround(revision)];
  return one === null ? other! : other === null ? one : uniteBoxes(one, other);
}

function judgeCluster(
  cluster: WordCluster,
  { dummy, revision }: { readonly dummy: PageSide; readonly revision: PageSide },
  about: AboutPages,
): readonly Finding[] {
  const before = inReadingOrder(cluster.dummy);
  const after = inReadingOrder(cluster.revision);
  const place = placeOf(cluster);
  if (lookAlike({ dummy: dummy.raster, revision: revision.raster }, place, { xMm: 0, yMm: 0 }) > SAME_SHAPES) return [];
  // joined without spaces, so that a word split in two by kerning is not a change
  if (glyphs(before) === glyphs(after)) {
    return before.length === after.length && isMove(before, after) ? [sayWordsMoved(about, before, after)] : [];
  }
  return rewordings(before, after, place, about);
}

function glyphs(words: readonly Word[]): string {
  return words.map(({ text }) => text).join('');
}

function isMove(before: readonly Word[], after: readonly Word[]): boolean {
  const { x, y } = meanShift(before, after);
  return Math.hypot(x, y) > 0.02;
}

/** One finding for each run of changed words; words that only flowed on are left out. */
function rewordings(
  before: readonly Word[],
  after: readonly Word[],
  place: Box,
  about: AboutPages,
): readonly Finding[] {
  const runs = shortestEdit(
    before.map(({ text }) => text),
    after.map(({ text }) => text),
  );
  const findings: Finding[] = [];
  for (let i = 0; i < runs.length; i++) {
    const run = runs[i]!;
    if (run.kind === 'kept') continue;
    const next = runs[i + 1];
    const removed = run.kind === 'removed' ? before.slice(run.beforeFrom, run.beforeFrom + run.length) : [];
    const insertion = run.kind === 'inserted' ? run : next?.kind === 'inserted' ? next : null;
    const inserted = insertion === null ? [] : after.slice(insertion.afterFrom, insertion.afterFrom + insertion.length);
    if (insertion === next && next !== undefined) i++;
    if (glyphs(removed) !== glyphs(inserted)) findings.push(sayReworded(about, removed, inserted, place));
  }
  return findings;
}
