import type { Binding, Working } from '../model/index.ts';
import { hasTwoFormes, Refusal, WORKINGS } from '../model/index.ts';
import { foldSheet, parseFolds } from './fold.ts';
import { layOutForme, type Trims } from './forme.ts';
import { layOutSheet, type SheetTask } from './lay-out-sheet.ts';
import { makePlan } from './make-plan.ts';
import type { CellTurn, Plan } from './plan.ts';
import { foldingsOf, pagesOfSections } from './sections.ts';

/** What was recognised on a page of the file: by row and column, from the top left. */
export interface FoundSide {
  readonly rows: number;
  readonly columns: number;
  /** Whether pages lie on their side, and are turned by 90 or 270 degrees. */
  readonly onSide: boolean;
  readonly cells: readonly ({ readonly page: number; readonly turnDeg: CellTurn } | null)[];
}

/** A plan that the sheets tell, to be confirmed by a person. */
export interface FoundPlan {
  readonly plan: Plan;
  /** Cells that agree with it, and cells in which a page was recognised. */
  readonly agreeing: number;
  readonly recognised: number;
}

/** Fewer that agree is chance or another book. */
const LEAST_SHARE = 0.6;

interface Held {
  readonly binding: Binding;
  readonly nested: number;
}

/** Nobody sews sections of more pages. Common practice, no source. */
const MOST_NESTED_PAGES = 128;

/** Sections of one sheet, the whole book nested, or sections of several sheets. */
const HELD: readonly Held[] = [
  { binding: 'sewn', nested: 1 },
  { binding: 'saddle-stitched', nested: 1 },
  ...Array.from({ length: 31 }, (_, index): Held => ({ binding: 'sewn', nested: index + 2 })),
];

interface Scheme {
  readonly folds: string;
  readonly working: Working;
  readonly standsDeg: CellTurn;
}

interface Agreeing extends Scheme {
  readonly agreeing: number;
}

/**
 * Finds the plan that sheets were made up by: of all foldings, workings, bindings and ways to stand that make such sheets the one that
 * most recognised pages agree with.
 *
 * @param book  the dummy's pages and their size
 * @throws {Refusal} malformed: no plan agrees with most of what was recognised; the plan has to be given
 */
export function findPlan(
  found: readonly FoundSide[],
  book: { readonly pages: number; readonly trimmed: Plan['trimmed'] },
): FoundPlan {
  const recognised = found.flatMap(({ cells }) => cells.filter((cell) => cell !== null)).length;
  let best: { readonly agreeing: number; readonly held: Held; readonly schemes: readonly Scheme[] } | null = null;
  for (const twoSided of [true, false]) {
    const sheets = twoSided ? paired(found) : found.map((side) => [side]);
    if (sheets === null) continue;
    const sizes = sheets.map((sides) => sides.reduce((sum, { cells }) => sum + cells.length, 0));
    const held = sizes.reduce((sum, size) => sum + size, 0);
    if (held < book.pages || held - book.pages >= 4) continue;
    for (const how of HELD) {
      if (best?.agreeing === recognised || how.nested * Math.max(...sizes) > MOST_NESTED_PAGES) break;
      const numbers = pagesOfSections(sizes, how.binding, how.nested);
      const fitting = sheets.map((sides, index) => bestSchemes(sides, numbers[index]!, book));
      if (fitting.some(({ length }) => length === 0)) continue;
      const agreeing = fitting.reduce((sum, [scheme]) => sum + scheme!.agreeing, 0);
      if (best === null || agreeing > best.agreeing) best = { agreeing, held: how, schemes: chooseAlike(fitting) };
    }
  }
  if (best === null || recognised === 0 || best.agreeing < LEAST_SHARE * recognised) {
    throw new Refusal('malformed', {
      pointer: 'plan',
      expected: 'sheets that tell how they are folded; give the plan or the folds',
      found: `${best?.agreeing ?? 0} of ${recognised} recognised pages in their place at best`,
    });
  }
  const sections = best.schemes.map(({ folds, working, standsDeg }) => {
    const parsed = parseFolds(folds);
    return { pages: 2 * foldSheet(parsed).leaves.length, folds: parsed, working, standsDeg };
  });
  const plan = makePlan({ ...book, ...best.held, sections });
  return { plan, agreeing: best.agreeing, recognised };
}

function paired(found: readonly FoundSide[]): (readonly FoundSide[])[] | null {
  if (found.length % 2 === 1) return null;
  return Array.from({ length: found.length / 2 }, (_, index) => [found[2 * index]!, found[2 * index + 1]!]);
}

/** Of schemes that fit a sheet equally well, the one that fits most other sheets too; of those the first. */
function chooseAlike(fitting: readonly (readonly Scheme[])[]): readonly Scheme[] {
  const counts = new Map<string, number>();
  const namesOf = ({ folds, working, standsDeg }: Scheme): readonly [string, string] => [
    `${working} ${standsDeg}`,
    `${working} ${standsDeg} ${folds}`,
  ];
  for (const name of fitting.flat().flatMap(namesOf)) counts.set(name, (counts.get(name) ?? 0) + 1);
  const fits = (scheme: Scheme): number => namesOf(scheme).reduce((sum, name) => sum + counts.get(name)!, 0);
  return fitting.map((schemes) => schemes.reduce((best, one) => (fits(one) > fits(best) ? one : best)));
}

/** The schemes that most pages of a sheet agree with; none where it is of other columns and rows than any has. */
function bestSchemes(
  sides: readonly FoundSide[],
  numbers: readonly number[],
  book: { readonly pages: number },
): readonly Agreeing[] {
  const [first] = sides;
  if (first === undefined || sides.some((side) => !isLaidAlike(side, first))) return [];
  let best: Agreeing[] = [];
  for (const folds of foldingsOf(numbers.length)) {
    const folded = foldSheet(parseFolds(folds));
    for (const scheme of schemesOf(folds, sides.length, first.onSide)) {
      const agreeing = agreementOf(sides, { folded, numbers, pages: book.pages, ...scheme });
      if (agreeing === null || agreeing < (best[0]?.agreeing ?? 0)) continue;
      best = [...(agreeing === best[0]?.agreeing ? best : []), { ...scheme, agreeing }];
    }
  }
  return best;
}

function isLaidAlike(one: FoundSide, other: FoundSide): boolean {
  return one.rows === other.rows && one.columns === other.columns && one.onSide === other.onSide;
}

/** Those first that stand as they lie before the folder. */
function schemesOf(folds: string, formes: number, onSide: boolean): readonly Scheme[] {
  const workings = WORKINGS.filter((working) => hasTwoFormes(working) === (formes === 2));
  const stands: readonly CellTurn[] = onSide ? [90, 270] : [0, 180];
  return stands.flatMap((standsDeg) => workings.map((working) => ({ folds, working, standsDeg })));
}

/** A page of one millimetre with nothing cut off: only the order of pages is asked for. */
const UNIT = { width: 1, height: 1 };
const NO_TRIMS: Trims = { headMm: 0, footMm: 0, faceMm: 0, grindOffMm: 0, lipMm: 0, marginMm: 0, gripperMm: null };

/** How many recognised pages stand where a scheme has them; null where it has other columns or rows. */
function agreementOf(
  sides: readonly FoundSide[],
  task: Pick<SheetTask, 'folded' | 'numbers' | 'pages' | 'working' | 'standsDeg'>,
): number | null {
  const layout = layOutForme(task.folded, UNIT, NO_TRIMS);
  const planned = layOutSheet({ sheet: 1, layout, creepOf: () => 0, ...task });
  let agreeing = 0;
  for (const [index, { cells }] of planned.sides.entries()) {
    const side = sides[index]!;
    if (planned.width !== side.columns || planned.height !== side.rows) return null;
    agreeing += cells.filter(({ page, turnDeg }, at) => {
      const found = side.cells[at] ?? null;
      return found !== null && found.page === page && found.turnDeg === turnDeg;
    }).length;
  }
  return agreeing;
}
