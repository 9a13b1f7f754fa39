import type { Finding, FindingKind, FindingOf, ProcessInk, Tolerances } from '../../model/index.ts';
import { isProcessInk, PROCESS_INKS } from '../../model/index.ts';
import type { SeenSide } from '../seen-sides.ts';
import type { Screen } from './screen-ruling.ts';
import { shownInks } from './exchanged-inks.ts';
import { alike, inkDemand, needsInk } from './ink-demand.ts';
import type { InkGrid } from './ink-grid.ts';
import type { PlateShift } from './plate-register.ts';

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

/** What is to be said of the plates, and how they are to be read for the pages to be compared. */
export interface JudgedPlates {
  readonly findings: readonly Finding[];
  /** For each side, which plate prints which ink, as the pages show it, and how far it is off. */
  readonly printed: readonly ReadonlyMap<ProcessInk, { readonly plate: number; readonly shift: PlateShift }>[];
  /** Pages that cannot be compared, since an ink of their side is not there. */
  readonly withheld: ReadonlySet<number>;
}

/** Mean ink under which a plate has nothing on the pages, in levels of 255. */
const EMPTY_LEVELS = 0.15;
/** What is told once of a plate is not told again of everything on its pages. */
const PUT_RIGHT = ' Its pages are compared and shown as if it were not so.';
/** Correlation with what the dummy asks for. */
const OWN = { sure: 0.85, otherAhead: 0.25, other: 0.6, ofNone: 0.15 };

/**
 * Judges the plates of all sides against each other and against the dummy: what is missing, doubled, empty or of another
 * sheet, exchanged, or out of register. Each is told once; what is wrong with a plate is put right before its pages are
 * compared, where it can be, or else keeps them from being compared.
 */
export function judgePlates(sides: readonly PlateSide[], tolerances: Tolerances): JudgedPlates {
  const findings: Finding[] = [];
  const withheld = new Set<number>();
  const printed = sides.map((side) => {
    const judged = judgeSide(side, sides, tolerances);
    findings.push(...judged.findings);
    if (judged.broken) for (const page of pagesOf(side)) withheld.add(page);
    return judged.printed;
  });
  return { findings, printed, withheld };
}

interface JudgedSide {
  readonly findings: readonly Finding[];
  readonly printed: Map<ProcessInk, { readonly plate: number; readonly shift: PlateShift }>;
  /** Whether an ink that its pages need is not there. */
  readonly broken: boolean;
}

function judgeSide(side: PlateSide, all: readonly PlateSide[], tolerances: Tolerances): JudgedSide {
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
    if (side.plates.some((plate) => plate.ink === ink) || lost.has(ink) || !needsInk(ink, side.colours)) continue;
    lost.add(ink);
    findings.push(say('separation-missing', ink, {}, `is missing.${uncompared}`));
  }
  side.plates.forEach((plate, index) => {
    const { ink } = plate;
    if (!isProcessInk(ink) || lost.has(ink)) return;
    if (!inked[index]) {
      if (!needsInk(ink, side.colours)) return;
      lost.add(ink);
      findings.push(say('separation-empty', ink, {}, `is empty where the dummy shows its colour.${uncompared}`));
      return;
    }
    const home = homeOf(plate, side, all);
    if (home === side) return;
    lost.add(ink);
    const whose = home === null ? 'none of the sheets' : placeOf(home);
    const says = `shows another sheet: its picture is that of ${whose}.${uncompared}`;
    findings.push(say('separation-of-another-sheet', ink, { belongsToSheet: home?.seen.sheet ?? null }, says));
  });
  const sound = side.plates.flatMap(({ ink, grid }, index) =>
    isProcessInk(ink) && !lost.has(ink) ? [{ ink, grid, index }] : [],
  );
  const shown = lost.size > 0 ? sound.map(({ ink }) => ink) : shownInks(sound, side.colours);
  sound.forEach(({ ink }, at) => {
    const other = shown[at]!;
    const back = shown[sound.findIndex((plate) => plate.ink === other)];
    // two in each other's place are one finding
    if (other === ink || (back === ink && PROCESS_INKS.indexOf(other) < PROCESS_INKS.indexOf(ink))) return;
    const says =
      back === ink ? `and that of ${other} are exchanged.${PUT_RIGHT}` : `shows the ink of ${other}.${PUT_RIGHT}`;
    findings.push(say('inks-exchanged', ink, { otherInk: other }, says));
  });
  for (const { ink, shift, screen } of side.plates) {
    if (shift !== null && !lost.has(ink) && Math.hypot(shift.x, shift.y) > tolerances.separationMm) {
      const says = `is out of register with the others by ${mm(shift.x)} across and ${mm(shift.y)} down.${PUT_RIGHT}`;
      findings.push(say('separation-out-of-register', ink, { shiftXmm: shift.x, shiftYmm: shift.y }, says));
    }
    if (screen !== null && screen.rulingLpi < tolerances.rulingLpi) {
      const says = `is screened at ${screen.rulingLpi.toFixed(0)} lines an inch; from ${tolerances.rulingLpi} on is usual.`;
      const measured = { rulingLpi: screen.rulingLpi, limitLpi: tolerances.rulingLpi };
      findings.push({ ...say('screen-coarse', ink, measured, says), weight: 'look' });
    }
  }
  const printed = sound.map(({ index }, at) => {
    const plate = side.plates[index]!;
    return [shown[at]!, { plate: index, shift: plate.shift ?? { x: 0, y: 0 } }] as const;
  });
  return { findings, printed: new Map(printed), broken: lost.size > 0 };
}

/** The side whose pages ask for the ink as the plate has it; null where it is none of them. */
function homeOf(plate: JudgedPlate, own: PlateSide, all: readonly PlateSide[]): PlateSide | null {
  const { ink, grid } = plate;
  if (!isProcessInk(ink)) return own;
  const likeness = (side: PlateSide): number => alike(grid, demandOf(ink, side.colours));
  const here = likeness(own);
  if (here >= OWN.sure) return own;
  const [best] = all
    .filter((side) => side !== own && side.colours.length === own.colours.length)
    .map((side) => ({ side, like: likeness(side) }))
    .sort((one, other) => other.like - one.like);
  if (best !== undefined && best.like >= OWN.other && best.like - here >= OWN.otherAhead) return best.side;
  return here < OWN.ofNone ? null : own;
}

function demandOf(ink: ProcessInk, colours: Uint8Array): Float64Array {
  return Float64Array.from({ length: colours.length / 3 }, (_, at) =>
    inkDemand(ink, colours[at * 3]!, colours[at * 3 + 1]!, colours[at * 3 + 2]!),
  );
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
