import type { Box, Finding, PageRaster, Tolerances, Word } from '../../model/index.ts';
import { intersectBoxes, uniteBoxes } from '../../model/index.ts';
import type { ColourMap } from '../conversion/colour-map.ts';
import { UNCHANGED } from '../conversion/colour-map.ts';
import type { PageSide } from '../page-sides.ts';
import { growBox } from '../regions/cover.ts';
import { shortestEdit } from '../sequence/shortest-edit.ts';
import { findOtherColours } from './colour-of-pairs.ts';
import { inkDiffers } from './ink-difference.ts';
import { findOtherLooks, pairReset } from './look-of-pairs.ts';
import { lookAlike } from './look-alike.ts';
import { matchWords } from './match-words.ts';
import { allLinesOf, inReadingOrder } from './reading-order.ts';
import { findRulesAlongWords } from './rules-along-words.ts';
import { isOnSameGround } from './same-ground.ts';
import type { AboutPages } from './text-findings.ts';
import { meanShift, quoteWords, sayLooksDifferent, sayReworded, sayWordsMoved } from './text-findings.ts';
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

/** Fine rasters of both pages, where they were drawn. */
export type FineRasters = {
  readonly dummy: PageRaster;
  readonly revision: PageRaster;
  /** How much ink must differ for another letter; as between letters and outlines where absent. */
  readonly leastInkPx?: number;
} | null;

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
  for (const line of lines) findings.push(sayLooksDifferent(about, line.dummy, line.revision, 'its shapes'));
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
    ...lines.map((line) => [...line.dummy, ...line.revision]),
    ...allLinesOf(looks.told.map((pair) => pair.dummy)),
    ...allLinesOf(looks.told.map((pair) => pair.revision)),
  ];
  const spans = changed.map((line) => growBox(boxAround(line)!, LINE_MARGIN_MM));
  const judged = [...words, ...spans, ...rules.spans];
  return { findings, judged, wantsFine };
}

interface LoneWords {
  readonly dummy: readonly Word[];
  readonly revision: readonly Word[];
  /** Words where the other file tells other words at the same place. */
  readonly dummyOpposed: readonly Word[];
  readonly revisionOpposed: readonly Word[];
}

/** Separates unmatched words that have nothing told against them (the other file may have outlines there) from the rest. */
function findLoneWords(
  dummyOnly: readonly Word[],
  revisionOnly: readonly Word[],
  dummyAll: readonly Word[],
  revisionAll: readonly Word[],
): LoneWords {
  const opposed = (word: Word, others: readonly Word[]): boolean =>
    others.some((other) => sharesPlace(word.box, other.box));
  return {
    dummy: dummyOnly.filter((word) => !opposed(word, revisionAll)),
    revision: revisionOnly.filter((word) => !opposed(word, dummyAll)),
    dummyOpposed: dummyOnly.filter((word) => opposed(word, revisionAll)),
    revisionOpposed: revisionOnly.filter((word) => opposed(word, dummyAll)),
  };
}

function sharesPlace(one: Box, other: Box): boolean {
  const shared = intersectBoxes(one, other);
  return (
    shared !== null && shared.width * shared.height > 0.2 * Math.min(one.width * one.height, other.width * other.height)
  );
}

interface ShapeJudgement {
  /** Unmatched words that stay unexplained. */
  readonly dummy: readonly Word[];
  readonly revision: readonly Word[];
  readonly changed: { readonly dummy: readonly Word[]; readonly revision: readonly Word[] };
  /** Words, of either file, that both pages show in the same shapes. */
  readonly same: readonly Word[];
  readonly wantsFine: boolean;
}

/** Something of the word is there at all: between this and the same shapes lies a changed letter. */
const STILL_THERE = 0.45;

function judgeShapes(
  lone: LoneWords,
  sides: { readonly dummy: PageSide; readonly revision: PageSide },
  fine: FineRasters,
  pictureBoxes: readonly Box[],
  tolerances: Tolerances,
): ShapeJudgement {
  const coarse = { dummy: sides.dummy.raster, revision: sides.revision.raster };
  const allWords = [...sides.dummy.facts.words, ...sides.revision.facts.words];
  const still = { xMm: 0, yMm: 0 };
  const rest = { dummy: [...lone.dummyOpposed], revision: [...lone.revisionOpposed] };
  const changed: { dummy: Word[]; revision: Word[] } = { dummy: [], revision: [] };
  const same: Word[] = [];
  let wantsFine = false;
  for (const side of ['dummy', 'revision'] as const) {
    for (const word of lone[side]) {
      const box = growBox(word.box, tolerances.textPlaceMm / 2);
      const like = Math.max(
        ...[0, 1, -1].flatMap((x) =>
          [0, 1, -1].map((y) => lookAlike(coarse, word.box, { xMm: still.xMm + x * 0.2, yMm: still.yMm + y * 0.2 })),
        ),
      );
      const other = side === 'dummy' ? sides.revision : sides.dummy;
      if (like < STILL_THERE) (keepVisible([word], other).length > 0 ? changed : rest)[side].push(word);
      else if (pictureBoxes.some((picture) => intersectBoxes(picture, word.box) !== null)) {
        // another preparation of the picture is no change of the letters on it: only like ground lets them be judged finely
        if (like < 0.8) changed[side].push(word);
        else if (!isOnSameGround(fine ?? coarse, word.box, allWords)) continue;
        else if (fine === null) wantsFine = true;
        else if (inkDiffers(fine, box, fine.leastInkPx)) changed[side].push(word);
      } else if (fine === null) {
        wantsFine = true;
      } else if (inkDiffers(fine, box, fine.leastInkPx)) {
        changed[side].push(word);
      } else {
        same.push(word);
      }
    }
  }
  return { ...rest, changed, same, wantsFine };
}

/** Words whose shapes changed, line by line: one changed letter carries the rest of its line along. */
function changedLines(changed: ShapeJudgement['changed']): readonly WordCluster[] {
  return [
    ...allLinesOf(changed.dummy).map((dummy) => ({ dummy, revision: [] })),
    ...allLinesOf(changed.revision).map((revision) => ({ dummy: [], revision })),
  ];
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
