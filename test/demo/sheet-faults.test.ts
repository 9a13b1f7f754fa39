import { describe, expect, it } from 'vitest';
import { madeSides, type SheetFault } from '../../demo/sheets/faults.ts';
import { makePlan } from '../../src/plates/index.ts';

const plan = makePlan({
  pages: 32,
  trimmed: { width: 100, height: 120 },
  binding: 'sewn',
  sections: [{ pages: 16 }, { pages: 16 }],
});
/** What stands where it should not, told as "cell of page 5: 12 turned 180". */
const altered = (...faults: SheetFault[]) =>
  madeSides(plan, faults).flatMap(({ cells }) =>
    cells.flatMap((cell) => {
      const { page, shows, shownDeg, turnDeg, shiftXmm, shiftYmm } = cell;
      if (shows === page && shownDeg === turnDeg && shiftXmm === 0 && shiftYmm === 0) return [];
      const turned = shownDeg === turnDeg ? '' : ` turned ${(shownDeg - turnDeg + 360) % 360}`;
      return [
        `cell of ${page}: ${shows}${turned}${shiftXmm === 0 && shiftYmm === 0 ? '' : ` off ${shiftXmm}, ${shiftYmm}`}`,
      ];
    }),
  );
const order = (...faults: SheetFault[]) => madeSides(plan, faults).map(({ sheet, side }) => `${sheet} ${side}`);

describe('faults planted in sheets', () => {
  it('change nothing but what they name', () => {
    expect(altered()).toEqual([]);
    expect(altered({ kind: 'exchanged', pages: [5, 12] })).toEqual(['cell of 5: 12', 'cell of 12: 5']);
    expect(altered({ kind: 'wrong-cell', page: 7, shows: 23 })).toEqual(['cell of 7: 23']);
    expect(altered({ kind: 'turned', page: 9, degrees: 180 })).toEqual(['cell of 9: 9 turned 180']);
    expect(altered({ kind: 'missing', page: 30 })).toEqual(['cell of 30: null']);
    expect(altered({ kind: 'off-place', page: 1, shiftXmm: 1.5, shiftYmm: 0 })).toEqual(['cell of 1: 1 off 1.5, 0']);
  });

  it('exchange sides and sheets in the order of the file', () => {
    expect(order()).toEqual(['1 front', '1 back', '2 front', '2 back']);
    expect(order({ kind: 'sides-exchanged', sheet: 2 })).toEqual(['1 front', '1 back', '2 back', '2 front']);
    expect(order({ kind: 'sheets-exchanged', sheets: [1, 2] })).toEqual(['2 front', '2 back', '1 front', '1 back']);
  });

  it('move a whole back', () => {
    const shifts = madeSides(plan, [{ kind: 'back-off', sheet: 2, shiftXmm: 0.8, shiftYmm: -0.3 }]);
    expect(shifts.map(({ shiftXmm, shiftYmm }) => [shiftXmm, shiftYmm])).toEqual([
      [0, 0],
      [0, 0],
      [0, 0],
      [0.8, -0.3],
    ]);
  });

  it('are refused where there is nothing to plant them in', () => {
    expect(() => madeSides(plan, [{ kind: 'back-off', sheet: 3, shiftXmm: 1, shiftYmm: 0 }])).toThrow(
      'there is no sheet 3',
    );
  });
});
