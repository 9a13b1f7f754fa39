import { Refusal } from '../model/index.ts';

/** Which part of the sheet is laid over which: `T>B` lays its top over its bottom. */
export type FoldDirection = 'L>R' | 'R>L' | 'T>B' | 'B>T';

/** One fold of a sheet that lies with its back, the side without page 1, towards the folder. */
export interface Fold {
  readonly direction: FoldDirection;
  /** 2 lays one half over the other, 3 the outer third over the middle one. */
  readonly share: 2 | 3;
}

/** A leaf of a folded sheet, and where it lay before folding. Leaf i (from 0) carries the section's pages 2i+1 and 2i+2. */
export interface FoldedLeaf {
  /** From 0 at the top and at the left, as the front is looked at. */
  readonly row: number;
  readonly column: number;
  /** The side of the sheet that the leaf's odd page is printed on; page 1 is always on the front. */
  readonly oddPageOn: 'front' | 'back';
  /** Whether its pages stand head up on the sheet; the same on both sides. */
  readonly headUp: boolean;
  /** Which of its edges, as the front is looked at, becomes the spine. */
  readonly spine: 'left' | 'right';
  /** Whether its spine is a fold that joins it to another leaf; a leaf that hangs on nothing can only be glued. */
  readonly joined: boolean;
}

/** A sheet after its last fold. */
export interface FoldedSheet {
  readonly rows: number;
  readonly columns: number;
  /** From the first page to the last. */
  readonly leaves: readonly FoldedLeaf[];
  readonly reads: 'left-to-right' | 'right-to-left';
}

const DIRECTIONS: readonly FoldDirection[] = ['L>R', 'R>L', 'T>B', 'B>T'];
const MOST_FOLDS = 6;
const FOLD = /^(L>R|R>L|T>B|B>T)( 1\/3)?$/;

/**
 * Reads folds as people write them: `R>L, T>B, L>R`; a third is `B>T 1/3`.
 *
 * @throws {Refusal} malformed: something that is no fold, or more than six
 */
export function parseFolds(text: string): readonly Fold[] {
  const folds = text.split(',').map((part): Fold => {
    const match = FOLD.exec(part.trim());
    const direction = DIRECTIONS.find((known) => known === match?.[1]);
    if (match === null || direction === undefined) {
      throw new Refusal('malformed', { pointer: 'folds', expected: 'folds such as R>L, T>B, L>R', found: part.trim() });
    }
    return { direction, share: match[2] === undefined ? 2 : 3 };
  });
  if (folds.length <= MOST_FOLDS) return folds;
  throw new Refusal('malformed', { pointer: 'folds', expected: `at most ${MOST_FOLDS}`, found: `${folds.length}` });
}

/** Writes folds as `parseFolds` reads them. */
export function formatFolds(folds: readonly Fold[]): string {
  return folds.map(({ direction, share }) => (share === 3 ? `${direction} 1/3` : direction)).join(', ');
}

/** A leaf in a pile, in the view of the folder: columns are counted on the back. */
interface Lying {
  readonly row: number;
  readonly backColumn: number;
  backUp: boolean;
  upright: boolean;
  mirrored: boolean;
}

/**
 * Folds an ideal sheet and says which page comes where. The sheet has as many rows and columns as the folds make of one
 * page; the last fold is the spine.
 *
 * @throws {Refusal} malformed: no folds, a last fold that is not at the spine (L>R or R>L in halves), or folds that no
 * whole number of pages comes of
 * @source common practice, no source; the layouts it gives are held against test/standards/folding
 */
export function foldSheet(folds: readonly Fold[]): FoldedSheet {
  const last = folds.at(-1);
  if (last?.share !== 2 || (last.direction !== 'L>R' && last.direction !== 'R>L')) {
    throw misfit(folds, 'a last fold L>R or R>L in halves, which is the spine');
  }
  const { rows, columns } = sizeBefore(folds);
  let piles: Lying[][][] = Array.from({ length: rows }, (_row, row) =>
    Array.from({ length: columns }, (_column, backColumn) => [
      { row, backColumn, backUp: true, upright: true, mirrored: false },
    ]),
  );
  for (const fold of folds) piles = foldOnce(piles, fold);
  const pile = piles[0]![0]!;
  const spineOnLeft = last.direction === 'L>R';
  const spines = new Map(pile.map((leaf) => [leaf, spineOnLeft === leaf.mirrored ? 'left' : 'right'] as const));
  const at = (row: number, column: number): Lying | undefined =>
    pile.find((leaf) => leaf.row === row && columns - 1 - leaf.backColumn === column);
  return {
    rows,
    columns,
    reads: spineOnLeft ? 'left-to-right' : 'right-to-left',
    leaves: pile.map((leaf): FoldedLeaf => {
      const column = columns - 1 - leaf.backColumn;
      const spine = spines.get(leaf)!;
      const neighbour = at(leaf.row, spine === 'left' ? column - 1 : column + 1);
      return {
        row: leaf.row,
        column,
        oddPageOn: leaf.backUp ? 'back' : 'front',
        headUp: leaf.upright,
        spine,
        joined: neighbour !== undefined && spines.get(neighbour) !== spine,
      };
    }),
  };
}

/** Counts back from a single page. */
function sizeBefore(folds: readonly Fold[]): { readonly rows: number; readonly columns: number } {
  const size = { rows: 1, columns: 1 };
  for (const { direction, share } of folds.toReversed()) {
    const axis = isSideways(direction) ? 'columns' : 'rows';
    size[axis] = share === 2 ? size[axis] * 2 : (size[axis] * 3) / 2;
    if (!Number.isInteger(size[axis])) throw misfit(folds, 'a fold in thirds to be followed by one in halves');
  }
  return size;
}

function isSideways(direction: FoldDirection): boolean {
  return direction === 'L>R' || direction === 'R>L';
}

/** What is laid over comes on top, its piles upside down, each leaf with its other side up. */
function foldOnce(piles: readonly Lying[][][], { direction, share }: Fold): Lying[][][] {
  const sideways = isSideways(direction);
  const lines = sideways ? transposed(piles) : piles.map((row) => [...row]);
  const fromEnd = direction === 'R>L' || direction === 'B>T';
  if (fromEnd) lines.reverse();
  const moved = lines.length / share;
  const rest = lines.slice(moved);
  lines.slice(0, moved).forEach((line, index) => {
    const under = rest[moved - 1 - index]!;
    line.forEach((pile, across) => {
      const turned = pile.toReversed().map((leaf) => ({
        ...leaf,
        backUp: !leaf.backUp,
        upright: sideways ? leaf.upright : !leaf.upright,
        mirrored: sideways ? !leaf.mirrored : leaf.mirrored,
      }));
      under[across] = [...turned, ...under[across]!];
    });
  });
  if (fromEnd) rest.reverse();
  return sideways ? transposed(rest) : rest;
}

function transposed<T>(grid: readonly (readonly T[])[]): T[][] {
  return (grid[0] ?? []).map((_, column) => grid.map((row) => row[column]!));
}

function misfit(folds: readonly Fold[], expected: string): Refusal {
  return new Refusal('malformed', { pointer: 'folds', expected, found: formatFolds(folds) || 'none' });
}
