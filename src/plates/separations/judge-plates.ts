import type { Finding, FindingKind, FindingOf, ProcessInk, Tolerances } from '../../model/index.ts';
import { isProcessInk, PROCESS_INKS } from '../../model/index.ts';
import type { SeenSide } from '../seen-sides.ts';
import type { Screen } from './screen-ruling.ts';
import type { Exchange, InkedSide } from './exchanged-in-job.ts';
import { exchangedInJob, putRight } from './exchanged-in-job.ts';
import { shownInks } from './exchanged-inks.ts';
import { needsInk } from './ink-demand.ts';
import { asksAsElsewhere } from './job-colours.ts';
import type { InkGrid } from './ink-grid.ts';
import type { PlateMarks } from './plate-marks.ts';
import type { PlateShift } from './plate-register.ts';
import { toldByColours } from './told-by-colours.ts';

/** A plate with what was seen of it where the pages of its side stand. */
export interface JudgedPlate {
  readonly ink: string;
  readonly file: string;
  readonly sha256: string;
  /** Over the pages of the side, one after the other. */
  readonly grid: InkGrid;
  /** Against most plates of its side; null where it shares nothing with them. */
  readonly shift: PlateShift | null;
  readonly screen: Screen | null;
  /** Beside the pages; null where that was not looked at. */
  readonly marks: PlateMarks | null;
}

/** A side as its plates have it, and what the dummy has there. */
export interface PlateSide {
  readonly seen: Pick<SeenSide, 'sheet' | 'side' | 'cells'>;
  /** Colours of the dummy's pages that stand there, three bytes a cell of the grids: a square millimetre. */
  readonly colours: Uint8Array;
  readonly plates: readonly JudgedPlate[];
  /** Files beside the one that was taken for an ink. */
  readonly doubled: readonly { readonly ink: string; readonly file: string }[];
  /** Files of another size, with theirs in words. */
  readonly strange: readonly { readonly ink: string; readonly file: string; readonly size: string }[];
}

/** The plate that prints an ink. */
export interface PrintedInk {
  /** Its place among the plates of its side. */
  readonly plate: number;
  /** How far it is off. */
  readonly shift: PlateShift;
  /** Its rows of dots an inch where these are fewer than is usual, else null. */
  readonly coarseLpi: number | null;
}

/** What is to be said of the plates, and how they are to be read for the pages to be compared. */
export interface JudgedPlates {
  readonly findings: readonly Finding[];
  /** For each side, which plate prints which ink, as the pages show it. */
  readonly printed: readonly ReadonlyMap<ProcessInk, PrintedInk>[];
  /** Pages that cannot be compared, since an ink of their side is not there. */
  readonly withheld: ReadonlySet<number>;
  /** Of these, the ones whose black is not there: by what is left of them they may be taken for others. */
  readonly unseen: ReadonlySet<number>;
  /** How much of all plates the colours of their pages tell, in plates: the more, the surer the sides are the right ones. */
  readonly toldPlates: number;
}

/** Mean ink under which a plate has nothing on the pages, in levels of 255. */
const EMPTY_LEVELS = 0.15;
/** What is told once of a plate is not told again of everything on its pages. */
const PUT_RIGHT = ' Its pages are compared and shown as if it were not so.';
/** What is no larger than dots is not told from them. */
const UNTOLD_LETTERS = ' Another letter in type in a tint of it may not be told.';
/**
 * How much of a plate the colours of its pages tell where it is theirs. Of 93 plates in place the least was 0.78; laid over
 * other pages up to 0.90 where those are set alike, but then with twice as much left untold (test/evaluation/sheets).
 */
const HOME = { sure: 0.6, ahead: 0.05, timesMoreLeft: 1.5, ofNone: 0.3 };
/** Standard deviation, in levels, under which a plate has so little on it that its dots hide whose it is. */
const LEAST_SPREAD = 6;

/**
 * Judges the plates of all sides against each other and against the dummy: what is missing, doubled, empty or of another
 * sheet, exchanged, or out of register. Each is told once; what is wrong with a plate is put right before its pages are
 * compared, where it can be, or else keeps them from being compared.
 */
export function judgePlates(sides: readonly PlateSide[], tolerances: Tolerances): JudgedPlates {
  const findings: Finding[] = [];
  const [withheld, unseen] = [new Set<number>(), new Set<number>()];
  const homes = sides.map((side) => side.plates.map((plate) => homeOf(plate, side, sides)));
  const atHome = sides.map((side, nth) => ({
    colours: side.colours,
    plates: side.plates.filter((_, index) => homes[nth]![index] === side),
  }));
  const exchanges = exchangedInJob(atHome);
  const right = exchanges.reduce<readonly InkedSide[]>(putRight, atHome);
  const needs = (nth: number, ink: ProcessInk): boolean =>
    needsInk(ink, sides[nth]!.colours) || (ink !== 'black' && asksAsElsewhere(right, nth, ink));
  const printed = sides.map((side, nth) => {
    const own = exchanges.filter((exchange) => exchange.side === nth);
    const judged = judgeSide(side, { homes: homes[nth]!, exchanges: own, needs: (ink) => needs(nth, ink) }, tolerances);
    findings.push(...judged.findings);
    for (const page of pagesOf(side)) {
      if (judged.lost.size > 0) withheld.add(page);
      if (judged.lost.has('black')) unseen.add(page);
    }
    return judged.printed;
  });
  const toldPlates = sides.reduce(
    (sum, { plates, colours }) => plates.reduce((own, { grid }) => own + (toldByColours(grid, colours) ?? 0), sum),
    0,
  );
  return { findings, printed, withheld, unseen, toldPlates };
}

/** What the rest of the job tells of a side. */
interface Known {
  /** For each plate the side whose pages it prints. */
  readonly homes: readonly (PlateSide | null)[];
  readonly exchanges: readonly Exchange[];
  readonly needs: (ink: ProcessInk) => boolean;
}

interface JudgedSide {
  readonly findings: readonly Finding[];
  readonly printed: ReadonlyMap<ProcessInk, PrintedInk>;
  /** Inks that its pages need and that are not there. */
  readonly lost: ReadonlySet<string>;
}

function judgeSide(side: PlateSide, { homes, exchanges, needs }: Known, tolerances: Tolerances): JudgedSide {
  const findings: Finding[] = [];
  const say = sayOf(side);
  const pages = pagesOf(side);
  const uncompared = pages.length === 0 ? '' : ` Its pages ${pages.join(', ')} cannot be compared without it.`;
  const lost = new Set<string>();
  for (const { ink, file } of side.doubled) {
    findings.push(say('separation-doubled', ink, { file }, `is there twice; ${file} was left out.`));
  }
  for (const { ink, file, size } of side.strange) {
    lost.add(ink);
    const says = `is of another sheet: ${file} has ${size}, unlike the other plates.${uncompared}`;
    findings.push(say('separation-of-another-sheet', ink, { belongsToSheet: null }, says));
  }
  const inked = side.plates.map(({ grid }) => meanOf(grid) >= EMPTY_LEVELS);
  side.plates.forEach(({ ink, file, sha256 }, index) => {
    const twin = side.plates.findIndex((other) => other.sha256 === sha256);
    if (twin === index || !inked[index]) return;
    lost.add(ink);
    lost.add(side.plates[twin]!.ink);
    const says = `shows the very picture of ${side.plates[twin]!.ink}: ${file} is the same file.${uncompared}`;
    findings.push(say('separation-doubled', ink, { file }, says));
  });
  for (const ink of PROCESS_INKS) {
    if (side.plates.some((plate) => plate.ink === ink) || lost.has(ink) || !needs(ink)) continue;
    lost.add(ink);
    findings.push(say('separation-missing', ink, {}, `is missing.${uncompared}`));
  }
  // where no plate fits, it is the pages that are others
  const isAlone = (index: number): boolean => {
    const others = homes.filter((_, at) => at !== index && inked[at]);
    return others.length > 0 && 2 * others.filter((home) => home === side).length >= others.length;
  };
  side.plates.forEach((plate, index) => {
    const { ink } = plate;
    if (!isProcessInk(ink) || lost.has(ink)) return;
    if (!inked[index]) {
      // an empty plate that stands for another ink is that ink's
      if (!needs(afterExchanges(ink, exchanges))) return;
      lost.add(ink);
      findings.push(say('separation-empty', ink, {}, `is empty where the dummy shows its colour.${uncompared}`));
      return;
    }
    const home = homes[index]!;
    const isFar = home !== null && (toldByColours(plate.grid, side.colours) ?? 1) < HOME.sure;
    if (home === side || !(isFar || isAlone(index))) return;
    lost.add(ink);
    const whose = home === null ? 'none of the sheets' : placeOf(home);
    const says = `shows another sheet: its picture is that of ${whose}.${uncompared}`;
    findings.push(say('separation-of-another-sheet', ink, { belongsToSheet: home?.seen.sheet ?? null }, says));
  });
  const sound = side.plates.flatMap(({ ink, grid }, index) =>
    isProcessInk(ink) && !lost.has(ink) ? [{ ink, grid, index }] : [],
  );
  const byJob = sound.map(({ ink, grid }) => ({ ink: afterExchanges(ink, exchanges), grid }));
  const shown = lost.size > 0 ? byJob.map(({ ink }) => ink) : shownInks(byJob, side.colours);
  sound.forEach(({ ink }, at) => {
    const other = shown[at]!;
    const back = shown[sound.findIndex((plate) => plate.ink === other)];
    // two in each other's place are one finding
    if (other === ink || (back === ink && PROCESS_INKS.indexOf(other) < PROCESS_INKS.indexOf(ink))) return;
    const says =
      back === ink ? `and that of ${other} are exchanged.${PUT_RIGHT}` : `shows the ink of ${other}.${PUT_RIGHT}`;
    findings.push(say('inks-exchanged', ink, { otherInk: other }, says));
  });
  // against a plate of another sheet the others may all seem to be off
  const hasStranger = findings.some(({ kind }) => kind === 'separation-of-another-sheet');
  for (const { ink, shift, screen } of side.plates) {
    const isHeld = shift !== null && !lost.has(ink) && !hasStranger;
    if (isHeld && Math.hypot(shift.x, shift.y) > tolerances.separationMm) {
      const says = `is out of register with the others by ${mm(shift.x)} across and ${mm(shift.y)} down.${PUT_RIGHT}`;
      findings.push(say('separation-out-of-register', ink, { shiftXmm: shift.x, shiftYmm: shift.y }, says));
    }
    if (screen !== null && isCoarse(screen, tolerances)) {
      const says = `is screened at ${screen.rulingLpi.toFixed(0)} lines an inch; from ${tolerances.rulingLpi} on is usual.${UNTOLD_LETTERS}`;
      const measured = { rulingLpi: screen.rulingLpi, limitLpi: tolerances.rulingLpi };
      findings.push({ ...say('screen-coarse', ink, measured, says), weight: 'look' });
    }
  }
  const printed = sound.map(({ index }, at) => {
    const { shift, screen } = side.plates[index]!;
    const coarseLpi = screen !== null && isCoarse(screen, tolerances) ? screen.rulingLpi : null;
    return [shown[at]!, { plate: index, shift: shift ?? { x: 0, y: 0 }, coarseLpi }] as const;
  });
  return { findings, printed: new Map(printed), lost };
}

function isCoarse({ rulingLpi }: Screen, tolerances: Tolerances): boolean {
  return rulingLpi < tolerances.rulingLpi;
}

function afterExchanges(ink: ProcessInk, exchanges: readonly Exchange[]): ProcessInk {
  return exchanges.reduce((now, { inks: [one, other] }) => (now === one ? other : now === other ? one : now), ink);
}

/** The side whose colours tell the plate; its own where nothing can be said, null where no side's do. */
function homeOf({ ink, grid }: JudgedPlate, own: PlateSide, all: readonly PlateSide[]): PlateSide | null {
  const here = isProcessInk(ink) ? toldByColours(grid, own.colours) : null;
  if (here === null || 1 - here <= HOME.ahead) return own;
  const [best] = all
    .filter((side) => side !== own && side.colours.length === own.colours.length)
    .map((side) => ({ side, told: toldByColours(grid, side.colours) ?? 0 }))
    .sort((one, other) => other.told - one.told);
  const isOther =
    best !== undefined &&
    best.told >= HOME.sure &&
    best.told - here >= HOME.ahead &&
    1 - here >= HOME.timesMoreLeft * (1 - best.told);
  if (isOther) return best.side;
  // a picture that was turned or exchanged on a page takes much of an ink along, which is told of the page
  return here >= HOME.ofNone || spreadOf(grid) < LEAST_SPREAD ? own : null;
}

function spreadOf(grid: InkGrid): number {
  const mean = meanOf(grid);
  let square = 0;
  for (let at = 0; at < grid.length; at++) square += (grid[at]! - mean) ** 2;
  return grid.length === 0 ? 0 : Math.sqrt(square / grid.length);
}

function meanOf(grid: InkGrid): number {
  let sum = 0;
  for (let at = 0; at < grid.length; at++) sum += grid[at]!;
  return grid.length === 0 ? 0 : sum / grid.length;
}

function pagesOf({ seen }: PlateSide): readonly number[] {
  return seen.cells.flatMap(({ cell }) => (cell.page === null ? [] : [cell.page])).sort((one, other) => one - other);
}

function placeOf({ seen: { sheet, side } }: PlateSide): string {
  return `sheet ${sheet}${side === 'both' ? '' : ` ${side}`}`;
}

function sayOf(side: PlateSide) {
  const { sheet, side: name } = side.seen;
  const page = pagesOf(side)[0] ?? null;
  return <K extends SeparationKind>(
    kind: K,
    ink: string,
    more: Omit<FindingOf<K>['measured'], 'sheet' | 'side' | 'ink'>,
    says: string,
  ): FindingOf<K> => ({
    kind,
    weight: 'stop',
    dummyPage: page,
    revisionPage: page,
    box: null,
    revisionBox: null,
    measured: { sheet, side: name, ink, ...more } as FindingOf<K>['measured'],
    says: `${placeOf(side).replace(/^s/, 'S')}: the plate of ${ink} ${says}`,
  });
}

type SeparationKind = Extract<FindingKind, `separation-${string}` | 'inks-exchanged' | 'screen-coarse'>;

function mm(length: number): string {
  return `${(Math.round(length * 100) / 100 + 0).toFixed(2)} mm`;
}
