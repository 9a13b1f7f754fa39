import type { Finding, FindingKind, FindingOf, PagePair, Report, ReportSheets } from '../model/index.ts';
import { SHEET_KINDS } from '../model/index.ts';
import { isOfMark, type MarkOnPage } from './marks-on-pages.ts';
import { placeName } from './place-findings.ts';
import type { Plan } from './plan.ts';
import type { SeenCell, SeenSide } from './seen-sides.ts';
import { spineEdge } from './spine-edge.ts';

/** A page's place on the sheets. */
interface Place {
  readonly sheet: number;
  readonly side: 'front' | 'back' | 'both';
  readonly row: number;
  readonly column: number;
}

type Numbered = Report['findings'][number];

/**
 * Tells a report on the folded book in the words of sheets: not pages that moved, but pages in the wrong cell or
 * exchanged; turned and missing ones with their cell. All other findings stay as they are.
 *
 * @param turned  pages by the cell they belong to, and how they are turned against the plan
 * @param blank  pages of the dummy on which nothing is printed
 * @param withheld  pages of the folded book of which an ink is not there: only where they stand is told
 * @param unseen  of these, pages of which too little is there to know them by
 * @param marks  where collating marks reach over pages
 * @param further  what was found before the sheets were folded
 */
export function tellSheets(
  report: Report,
  {
    plan,
    seen,
    turned,
    blank,
    withheld,
    unseen,
    marks,
    further,
    sheets,
  }: {
    readonly plan: Plan;
    readonly seen: readonly SeenSide[];
    readonly turned: ReadonlyMap<number, 90 | 180 | 270>;
    readonly blank: ReadonlySet<number>;
    readonly withheld: ReadonlySet<number>;
    readonly unseen: ReadonlySet<number>;
    readonly marks: readonly MarkOnPage[];
    readonly further: readonly Finding[];
    readonly sheets: ReportSheets;
  },
): Report {
  const places = placesOf(seen);
  const roughMm = sheets.located === 'matching' ? MATCHED_MM : 0;
  const strips = new Map(
    seen.flatMap(({ cells }) => cells.map((one) => [one.cell.page, stripOf(one, plan) + roughMm] as const)),
  );
  const pages = withUnseenInPlace(withBlanksInPlace(withRecognised(report.pages, seen), blank), unseen);
  const kept: Finding[] = report.findings.flatMap((finding) => {
    if (isSpineStrip(finding, strips, plan) || isSpineCut(finding, strips, plan)) return [];
    if (isOfMark(finding, marks)) return [];
    if (isOfRoughPlace(finding, roughMm, plan) || isWithheld(finding, withheld)) return [];
    // the tones of plates are as fine as they were asked for, and say nothing of the pictures behind them
    if (finding.kind === 'picture-coarse' && sheets.separations !== undefined) return [];
    const told = inSheetWords(finding, places, pages);
    return told === null ? [] : [told];
  });
  const findings: Finding[] = [
    ...further,
    ...tellCells(pages, places),
    ...[...turned].flatMap(([cellPage, degrees]) => tellTurned(pages, cellPage, degrees, places)),
    ...kept,
  ];
  const place = ({ dummyPage, revisionPage }: Finding): number => dummyPage ?? revisionPage ?? Infinity;
  const sorted = findings
    .map((finding, index) => ({ finding, index }))
    .sort((one, other) => {
      const [a, b] = [place(one.finding), place(other.finding)];
      return a === b ? one.index - other.index : a < b ? -1 : 1;
    })
    .map(({ finding }, index): Numbered => ({ ...finding, id: `f${index + 1}` }));
  return {
    ...report,
    revision: { ...report.revision, pages: plan.pages },
    pages: pages.map((pair) => withState(pair, sorted, turned, withheld)),
    findings: sorted,
    verdict: sorted.some(({ weight }) => weight !== 'note') ? 'differs' : 'match',
    sheets,
  };
}

/** A page that pairing could not place is known where it was recognised on the sheet: it stands there once more. */
function withRecognised(pages: readonly PagePair[], seen: readonly SeenSide[]): readonly PagePair[] {
  const recognised = new Map(
    seen.flatMap(({ cells }) => cells.map(({ cell, recognised: found }) => [cell.page, found?.page ?? null] as const)),
  );
  return pages.map((pair) => {
    const dummyPage = pair.state === 'added' ? (recognised.get(pair.revisionPage) ?? null) : null;
    return dummyPage === null ? pair : { ...pair, dummyPage, state: 'repeated' };
  });
}

/**
 * Blank paper is alike everywhere: where an empty cell was taken for a blank page of the dummy, that page is in its own
 * cell, and the page of the empty one is missing.
 */
function withBlanksInPlace(pages: readonly PagePair[], blank: ReadonlySet<number>): readonly PagePair[] {
  const strayed = pages.flatMap(({ dummyPage, revisionPage }) =>
    dummyPage !== null && revisionPage !== null && dummyPage !== revisionPage && blank.has(dummyPage)
      ? [{ page: dummyPage, cell: revisionPage }]
      : [],
  );
  const empty = new Set(strayed.filter(({ cell }) => !blank.has(cell)).map(({ cell }) => cell));
  const home = new Set(strayed.flatMap(({ page, cell }) => [page, ...(blank.has(cell) ? [cell] : [])]));
  return pages.flatMap((pair): PagePair[] => {
    const { revisionPage, dummyPage } = pair;
    if (revisionPage !== null && empty.has(revisionPage)) {
      return [{ dummyPage: revisionPage, revisionPage, state: 'differs' }];
    }
    if (revisionPage !== null && home.has(revisionPage)) {
      return [{ dummyPage: revisionPage, revisionPage, state: 'same-picture' }];
    }
    return revisionPage === null && dummyPage !== null && (empty.has(dummyPage) || home.has(dummyPage)) ? [] : [pair];
  });
}

/** A page of which too little is there to know it by counts as standing in its own cell. */
function withUnseenInPlace(pages: readonly PagePair[], unseen: ReadonlySet<number>): readonly PagePair[] {
  return pages.flatMap((pair): PagePair[] => {
    const { dummyPage, revisionPage } = pair;
    if (revisionPage !== null && unseen.has(revisionPage)) {
      return [{ dummyPage: revisionPage, revisionPage, state: 'differs' }];
    }
    return revisionPage === null && dummyPage !== null && unseen.has(dummyPage) ? [] : [pair];
  });
}

/** A page differs by what is on it and by how it is turned, not by where it stands. */
function withState(
  pair: PagePair,
  findings: readonly Finding[],
  turned: ReadonlyMap<number, 90 | 180 | 270>,
  withheld: ReadonlySet<number>,
): PagePair {
  if (pair.state !== 'differs' && pair.state !== 'same-picture') return pair;
  const differs =
    withheld.has(pair.revisionPage ?? 0) ||
    turned.has(pair.revisionPage ?? 0) ||
    findings.some(
      ({ kind, weight, dummyPage, revisionPage }) =>
        weight !== 'note' &&
        !SHEET_KINDS.has(kind) &&
        dummyPage === pair.dummyPage &&
        revisionPage === pair.revisionPage,
    );
  return { ...pair, state: differs ? 'differs' : 'same-picture' };
}

/** An ink that is not there changes everything that it draws; that it is not there has been told. */
function isWithheld({ kind, dummyPage, revisionPage }: Numbered, withheld: ReadonlySet<number>): boolean {
  if (SHEET_KINDS.has(kind) || kind === 'page-turned' || kind === 'page-unreadable') return false;
  return withheld.has(revisionPage ?? 0) || (kind === 'page-missing' && withheld.has(dummyPage ?? 0));
}

/** What drawing leaves at an edge. */
const RIM_MM = 0.3;

/** How well places are known that only matching tells. */
const MATCHED_MM = 0.3;

/** How wide a strip of a page creep moves over the fold, as planned and as it was found. */
function stripOf({ cell, box }: SeenCell, { reads }: Plan): number {
  if (cell.page === null) return 0;
  const [x, y] = [box.x - cell.box.x, box.y - cell.box.y];
  const towards = { left: -1 * x, right: x, top: -1 * y, bottom: y };
  return Math.max(0, cell.creepMm + towards[spineEdge({ page: cell.page, turnDeg: cell.turnDeg }, reads)]);
}

/** Where a page lies over the fold the sheet shows its neighbour: nothing of the page is changed. */
function isSpineStrip(
  { revisionPage, revisionBox }: Numbered,
  strips: ReadonlyMap<number | null, number>,
  { reads, trimmed }: Plan,
): boolean {
  const over = strips.get(revisionPage) ?? 0;
  if (revisionBox === null || revisionPage === null || over < LEAST_STRIP_MM) return false;
  const strip = Math.min(MOST_STRIP_MM, over) + RIM_MM;
  return spineEdge({ page: revisionPage, turnDeg: 0 }, reads) === 'left'
    ? revisionBox.x + revisionBox.width <= strip
    : revisionBox.x >= trimmed.width - strip;
}

/**
 * Whether a page that is one picture seems to sit off by no more than its place is known to: where nothing but matching
 * tells places, such a page tells its own, and a slip of the crop cannot be told from one of the page.
 */
function isOfRoughPlace(finding: Numbered, roughMm: number, { trimmed }: Plan): boolean {
  const { kind, box, measured } = finding;
  if (roughMm === 0 || kind !== 'crop-altered' || box === null) return false;
  const { shiftXmm, shiftYmm, scale } = measured;
  const isWhole = box.width >= trimmed.width - roughMm && box.height >= trimmed.height - roughMm;
  return isWhole && Math.hypot(shiftXmm, shiftYmm) <= ROUGH_PICTURE_MM && Math.abs(scale - 1) <= RIM_SCALE;
}

/** So far a soft picture that fills its page may be matched beside its place (0.67 mm on clean sheets, test/evaluation). */
const ROUGH_PICTURE_MM = 0.75;

/** Whether a crop only lost at the spine what creep, or the neighbour's edge, takes there. */
function isSpineCut(finding: Numbered, strips: ReadonlyMap<number | null, number>, { reads }: Plan): boolean {
  const { kind, revisionPage, measured } = finding;
  const over = strips.get(revisionPage) ?? 0;
  if (kind !== 'crop-altered' || revisionPage === null || over < LEAST_STRIP_MM) return false;
  const { shiftXmm, shiftYmm, scale, cutMm } = measured;
  const spine = spineEdge({ page: revisionPage, turnDeg: 0 }, reads);
  const others = (['left', 'right', 'top', 'bottom'] as const).filter((edge) => edge !== spine);
  return (
    cutMm[spine] > 0 &&
    cutMm[spine] <= Math.min(MOST_STRIP_MM, over) + RIM_MM &&
    [shiftXmm, shiftYmm, ...others.map((edge) => cutMm[edge])].every((mm) => Math.abs(mm) <= RIM_MM) &&
    Math.abs(scale - 1) <= RIM_SCALE
  );
}

/** A scale under this is none. */
const RIM_SCALE = 0.005;
const LEAST_STRIP_MM = 0.02;
/** As much as creep may come to. Common practice, no source. */
const MOST_STRIP_MM = 1;

function placesOf(seen: readonly SeenSide[]): ReadonlyMap<number, Place> {
  return new Map(
    seen.flatMap(({ sheet, side, cells }) =>
      cells.flatMap(({ cell: { page, row, column } }) =>
        page === null ? [] : [[page, { sheet, side, row, column }] as const],
      ),
    ),
  );
}

/** Null for what is told by cells instead. */
function inSheetWords(
  finding: Numbered,
  places: ReadonlyMap<number, Place>,
  pages: readonly PagePair[],
): Finding | null {
  const { id: _id, ...told } = finding;
  const own = told.revisionPage === null ? undefined : places.get(told.revisionPage);
  switch (told.kind) {
    case 'page-moved':
    case 'page-repeated':
      return null;
    case 'page-emptied': {
      const says = `Page ${told.dummyPage} is missing from its sheet: ${own === undefined ? 'its cell' : placeName(own)} is empty.`;
      return { ...told, kind: 'page-missing', measured: {}, says };
    }
    case 'page-missing': {
      const cell = told.dummyPage === null ? undefined : places.get(told.dummyPage);
      return cell === undefined
        ? told
        : { ...told, says: `Page ${told.dummyPage} is on no sheet; its cell is ${placeName(cell)}.` };
    }
    case 'page-added':
      if (pages.some(({ revisionPage, state }) => revisionPage === told.revisionPage && state === 'repeated'))
        return null;
      return own === undefined ? told : { ...told, says: `${told.says.replace(/\.$/, '')}: ${placeName(own)}.` };
    case 'page-turned':
      return own === undefined ? told : { ...told, says: `${told.says.replace(/\.$/, '')}: ${placeName(own)}.` };
    default:
      return told;
  }
}

/** Pages that stand where others belong; two in each other's place are one finding. */
function tellCells(pages: readonly PagePair[], places: ReadonlyMap<number, Place>): readonly Finding[] {
  const shown = new Map(
    pages.flatMap(({ dummyPage, revisionPage }) =>
      dummyPage !== null && revisionPage !== null ? [[revisionPage, dummyPage] as const] : [],
    ),
  );
  return [...shown].flatMap(([belongs, page]): Finding[] => {
    const at = places.get(belongs);
    if (belongs === page || at === undefined) return [];
    if (shown.get(page) === belongs) {
      if (page < belongs) return [];
      const own = places.get(page)!;
      const says = `Pages ${belongs} and ${page} are exchanged: page ${page} stands on ${placeName(at)}, page ${belongs} on ${placeName(own)}.`;
      return [stop('pages-exchanged', belongs, page, { ...own, otherPage: page }, says)];
    }
    const says = `Page ${page} stands in the cell of page ${belongs}: ${placeName(at)}.`;
    return [stop('page-in-wrong-cell', page, belongs, { ...at, belongsToPage: belongs }, says)];
  });
}

function tellTurned(
  pages: readonly PagePair[],
  cellPage: number,
  degrees: 90 | 180 | 270,
  places: ReadonlyMap<number, Place>,
): readonly Finding[] {
  const pair = pages.find(({ revisionPage }) => revisionPage === cellPage);
  const at = places.get(cellPage);
  if (pair === undefined || at === undefined) return [];
  const says = `Page ${pair.dummyPage ?? cellPage} is turned by ${degrees} degrees clockwise: ${placeName(at)}.`;
  return [stop('page-turned', pair.dummyPage, cellPage, { degrees }, says)];
}

function stop<K extends FindingKind>(
  kind: K,
  dummyPage: number | null,
  revisionPage: number | null,
  measured: FindingOf<K>['measured'],
  says: string,
): FindingOf<K> {
  return { kind, weight: 'stop', dummyPage, revisionPage, box: null, revisionBox: null, measured, says };
}
