import type { Mm } from '../model/index.ts';
import { medianOf } from './place-by-words.ts';
import type { MeasuredOff, SeenCell, SeenSide } from './seen-sides.ts';

type Axis = 'x' | 'y';

/** Where the columns, or the rows, of a side begin; null where none of its pages told. */
type Lines = ReadonlyMap<number, Mm | null>;

/**
 * Places from matching are rough: columns and rows are put where their pages were measured to lie, by words where any has
 * words, and each page is measured against that. A column in which nothing tells, since its page is of one tone or blank,
 * lies as far from its neighbour as on the other sides of such sheets.
 */
export function refinePlaces(seen: readonly SeenSide[]): readonly SeenSide[] {
  const lines = seen.map((side) => ({ x: measuredLines(side, 'x'), y: measuredLines(side, 'y') }));
  return seen.map((side, index) => {
    const alike = lines.filter(({ x, y }) => x.size === lines[index]!.x.size && y.size === lines[index]!.y.size);
    const placed = (axis: Axis): ReadonlyMap<number, Mm> =>
      filled(
        lines[index]![axis],
        alike.map((other) => other[axis]),
        roughLines(side, axis),
      );
    const [columns, rows] = [placed('x'), placed('y')];
    const cells = side.cells.map((seenCell): SeenCell => {
      const { cell, offMm } = seenCell;
      const box = { ...cell.box, x: columns.get(cell.column)!, y: rows.get(cell.row)! };
      const [x, y] = [box.x - cell.box.x, box.y - cell.box.y];
      return {
        ...seenCell,
        cell: { ...cell, box },
        box,
        offMm: offMm === null ? null : { ...offMm, x: offMm.x - x, y: offMm.y - y },
      };
    });
    return { ...side, cells };
  });
}

const lineOf = ({ cell }: SeenCell, axis: Axis): number => (axis === 'x' ? cell.column : cell.row);

function roughLines({ cells }: SeenSide, axis: Axis): ReadonlyMap<number, Mm> {
  return new Map(cells.map((seen) => [lineOf(seen, axis), seen.cell.box[axis]]));
}

function measuredLines(side: SeenSide, axis: Axis): Lines {
  const rough = roughLines(side, axis);
  return new Map(
    [...rough].map(([line, at]) => {
      const told = side.cells.flatMap((seen): MeasuredOff[] =>
        seen.offMm !== null && lineOf(seen, axis) === line ? [seen.offMm] : [],
      );
      const exact = told.filter(({ byWords }) => byWords);
      const best = exact.length > 0 ? exact : told;
      return [line, best.length === 0 ? null : at + medianOf(best.map((off) => off[axis]))] as const;
    }),
  );
}

/** Every line with a place: measured, or by its distance from a measured one on other sides, or else as it was roughly. */
function filled(own: Lines, others: readonly Lines[], rough: ReadonlyMap<number, Mm>): ReadonlyMap<number, Mm> {
  const known = [...own].flatMap(([line, at]) => (at === null ? [] : [{ line, at }]));
  return new Map(
    [...own].map(([line, at]) => {
      if (at !== null) return [line, at] as const;
      const [nearest] = known.sort((one, other) => Math.abs(one.line - line) - Math.abs(other.line - line));
      const elsewhere = others.flatMap((lines): Mm[] => {
        const there = lines.get(line) ?? null;
        const beside = nearest === undefined ? 0 : (lines.get(nearest.line) ?? null);
        return there === null || beside === null ? [] : [there - beside];
      });
      const from = nearest?.at ?? 0;
      if (elsewhere.length > 0) return [line, from + medianOf(elsewhere)] as const;
      const roughly = nearest === undefined ? 0 : nearest.at - rough.get(nearest.line)!;
      return [line, rough.get(line)! + roughly] as const;
    }),
  );
}
