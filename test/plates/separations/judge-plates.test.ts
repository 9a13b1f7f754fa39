import { describe, expect, it } from 'vitest';
import { DEFAULT_TOLERANCES, PROCESS_INKS, type ProcessInk } from '../../../src/model/index.ts';
import { judgePlates, type PlateSide } from '../../../src/plates/index.ts';

const CELLS = 2000;
type Plate = PlateSide['plates'][number];

/** Colours of a side, and plates that print them with some black for grey. */
function side(sheet: number, page: number, paint: (at: number) => readonly [number, number, number]): PlateSide {
  const colours = new Uint8Array(CELLS * 3);
  for (let at = 0; at < CELLS; at++) colours.set(paint(at), at * 3);
  const black = (at: number): number => 0.7 * (255 - Math.max(...colours.subarray(at * 3, at * 3 + 3)));
  const inkAt = (ink: ProcessInk, at: number): number => {
    if (ink === 'black') return black(at);
    const own = colours[at * 3 + ['cyan', 'magenta', 'yellow'].indexOf(ink)]!;
    return 255 * (1 - own / (255 - black(at)));
  };
  const plates = PROCESS_INKS.map((ink): Plate => ({
    ink,
    file: `s${sheet}_${ink}.tif`,
    sha256: `${sheet}${ink}`,
    grid: Uint8Array.from({ length: CELLS }, (_, at) => Math.max(0, Math.min(255, inkAt(ink, at)))),
    shift: { x: 0, y: 0 },
    screen: { rulingLpi: 175, angleDeg: 45 },
    marks: null,
  }));
  const cell = { page, row: 1, column: 1, box: { x: 0, y: 0, width: 10, height: 10 }, turnDeg: 0 as const, creepMm: 0 };
  const seen = { sheet, side: 'front' as const, cells: [{ cell, box: cell.box, recognised: null, offMm: null }] };
  return { seen, colours, plates, doubled: [], strange: [] };
}

const patch = (at: number, step: number): number => Math.floor(at / step);
const red = side(1, 1, (at) =>
  patch(at, 40) % 3 === 0 ? [200, 60, 50] : patch(at, 25) % 4 === 0 ? [90, 90, 90] : [250, 250, 250],
);
const blue = side(2, 5, (at) =>
  patch(at, 55) % 4 === 1 ? [50, 80, 190] : patch(at, 35) % 3 === 1 ? [60, 60, 60] : [230, 220, 170],
);

const withPlates = (of: PlateSide, change: (plate: Plate) => Plate | null): PlateSide => ({
  ...of,
  plates: of.plates.flatMap((plate) => change(plate) ?? []),
});
const plateOf = (of: PlateSide, ink: string): Plate => of.plates.find((plate) => plate.ink === ink)!;
const judge = (...sides: PlateSide[]) => {
  const { findings, withheld } = judgePlates(sides, DEFAULT_TOLERANCES);
  return {
    told: findings.map(({ kind, weight, measured }) => ({ kind, weight, ...measured })),
    withheld: [...withheld],
  };
};
const stop = { weight: 'stop', sheet: 1, side: 'front' };

describe('the plates of sheets', () => {
  it('are silent where they are as they should be', () => {
    expect(judge(red, blue)).toEqual({ told: [], withheld: [] });
  });

  it.each<[string, PlateSide, object, number[]]>([
    [
      'a missing one is told, and keeps its pages from being compared',
      withPlates(red, (plate) => (plate.ink === 'magenta' ? null : plate)),
      { ...stop, kind: 'separation-missing', ink: 'magenta' },
      [1],
    ],
    [
      'one with nothing on it where the dummy has its colour',
      withPlates(red, (plate) => (plate.ink === 'yellow' ? { ...plate, grid: new Uint8Array(CELLS) } : plate)),
      { ...stop, kind: 'separation-empty', ink: 'yellow' },
      [1],
    ],
    [
      'one of another sheet, with the sheet it is of',
      withPlates(red, (plate) => (plate.ink === 'black' ? { ...plateOf(blue, 'black'), file: 'x' } : plate)),
      { ...stop, kind: 'separation-of-another-sheet', ink: 'black', belongsToSheet: 2 },
      [1],
    ],
    [
      'one picture for two inks',
      withPlates(red, (plate) =>
        plate.ink === 'yellow' ? { ...plateOf(red, 'magenta'), ink: 'yellow', file: 'y' } : plate,
      ),
      { ...stop, kind: 'separation-doubled', ink: 'yellow', file: 'y' },
      [1],
    ],
    [
      'exchanged inks are one finding, and are put right before pages are compared',
      withPlates(red, (plate) => {
        const other = { cyan: 'magenta', magenta: 'cyan' }[plate.ink];
        return other === undefined ? plate : { ...plateOf(red, other), ink: plate.ink };
      }),
      { ...stop, kind: 'inks-exchanged', ink: 'cyan', otherInk: 'magenta' },
      [],
    ],
    [
      'one out of register',
      withPlates(red, (plate) => (plate.ink === 'cyan' ? { ...plate, shift: { x: 0.2, y: -0.1 } } : plate)),
      { ...stop, kind: 'separation-out-of-register', ink: 'cyan', shiftXmm: 0.2, shiftYmm: -0.1 },
      [],
    ],
    [
      'a coarse screen wants a look',
      withPlates(red, (plate) =>
        plate.ink === 'black' ? { ...plate, screen: { rulingLpi: 85, angleDeg: 45 } } : plate,
      ),
      { ...stop, weight: 'look', kind: 'screen-coarse', ink: 'black', rulingLpi: 85, limitLpi: 100 },
      [],
    ],
    [
      'a further file for an ink is left out',
      { ...red, doubled: [{ ink: 'cyan', file: 'c2.tif' }] },
      { ...stop, kind: 'separation-doubled', ink: 'cyan', file: 'c2.tif' },
      [],
    ],
    [
      'one of another size stands for its ink, which is not told again as missing',
      {
        ...withPlates(red, (plate) => (plate.ink === 'magenta' ? null : plate)),
        strange: [{ ink: 'magenta', file: 'm.tif', size: 'another' }],
      },
      { ...stop, kind: 'separation-of-another-sheet', ink: 'magenta', belongsToSheet: null },
      [1],
    ],
  ])('%s', (_, wrong, told, withheld) => {
    expect(judge(wrong, blue)).toEqual({ told: [told], withheld });
  });

  it('are not told as out of register beside one of another sheet, against which they may have been measured', () => {
    const mixed = withPlates(red, (plate) =>
      plate.ink === 'black' ? { ...plateOf(blue, 'black'), file: 'x' } : { ...plate, shift: { x: 2.7, y: -0.4 } },
    );
    expect(judge(mixed, blue).told.map(({ kind }) => kind)).toEqual(['separation-of-another-sheet']);
  });

  it('are handed on with how coarse the screen of each ink is, by the ink that they show', () => {
    const coarse = withPlates(red, (plate) => {
      const other = { cyan: 'magenta', magenta: 'cyan' }[plate.ink];
      const own = other === undefined ? plate : { ...plateOf(red, other), ink: plate.ink };
      return plate.ink === 'cyan' ? { ...own, screen: { rulingLpi: 65, angleDeg: 45 } } : own;
    });
    const judged = judgePlates([coarse, blue], DEFAULT_TOLERANCES);
    expect(judged.findings.map(({ says }) => says)).toContain(
      'Sheet 1 front: the plate of cyan is screened at 65 lines an inch; from 100 on is usual. Another letter in type in a tint of it may not be told.',
    );
    const [printed] = judged.printed;
    expect([...printed!].map(([ink, { plate, coarseLpi }]) => [ink, coarse.plates[plate]!.ink, coarseLpi])).toEqual([
      ['magenta', 'cyan', 65],
      ['cyan', 'magenta', null],
      ['yellow', 'yellow', null],
      ['black', 'black', null],
    ]);
  });

  it('of one sheet is told by its colours also where two sides are set alike', () => {
    const alike = (sheet: number, page: number, worn: number): PlateSide =>
      side(sheet, page, (at) => {
        const tone = 60 + ((patch(at, 8) * 37) % 160);
        return patch(at, 20) % 5 === worn ? [255, 255, 255] : [tone, (tone * 7) >> 3, tone >> 1];
      });
    const [one, other] = [alike(1, 1, 1), alike(2, 5, 2)];
    expect(judge(one, other)).toEqual({ told: [], withheld: [] });
    const wrong = withPlates(one, (plate) =>
      plate.ink === 'yellow' ? { ...plateOf(other, 'yellow'), file: 'x' } : plate,
    );
    expect(judge(wrong, other)).toEqual({
      told: [{ ...stop, kind: 'separation-of-another-sheet', ink: 'yellow', belongsToSheet: 2 }],
      withheld: [1],
    });
  });

  it('are not told as exchanged where a picture on the side has a cast', () => {
    const tone = (at: number): number => 70 + ((patch(at, 9) * 31) % 120);
    const own = (at: number, step: number): number => tone(at) + ((patch(at, step) * 17) % 30);
    const cool = side(1, 1, (at) => [0.7 * own(at, 5), 0.85 * own(at, 7), own(at, 11)]);
    const cast = side(1, 1, (at) => [own(at, 5), 0.85 * own(at, 7), 0.7 * own(at, 11)]);
    expect(judge({ ...cast, colours: cool.colours }, blue)).toEqual({ told: [], withheld: [] });
  });

  describe('exchanged on a grey side', () => {
    // a press balances grey with more cyan than magenta and yellow: 1.3 times as far from paper
    const balanced = (of: PlateSide): PlateSide =>
      withPlates(of, (plate) =>
        plate.ink === 'cyan' ? { ...plate, grid: plate.grid.map((ink) => Math.min(255, 1.3 * ink)) } : plate,
      );
    const grey = (sheet: number, page: number): PlateSide =>
      balanced(
        side(sheet, page, (at) => {
          const tone = 40 + ((patch(at, 9) * (30 + sheet)) % 200);
          return [tone, tone, tone];
        }),
      );
    const swapped = (of: PlateSide, screens: boolean): PlateSide =>
      withPlates(of, (plate) => {
        const other = { cyan: 'magenta', magenta: 'cyan' }[plate.ink];
        const from = other === undefined ? plate : plateOf(of, other);
        return { ...from, ink: plate.ink, screen: screens ? from.screen : null };
      });
    const screened = (of: PlateSide): PlateSide =>
      withPlates(of, (plate) => ({
        ...plate,
        screen: { rulingLpi: 175, angleDeg: { cyan: 15, magenta: 75, yellow: 0, black: 45 }[plate.ink]! },
      }));
    const exchange = { ...stop, kind: 'inks-exchanged', ink: 'cyan', otherInk: 'magenta' };

    it('they are told by what the same greys get on other sides', () => {
      const others = [grey(2, 5), grey(3, 9)];
      expect(judge(grey(1, 1), ...others)).toEqual({ told: [], withheld: [] });
      expect(judge(swapped(grey(1, 1), false), ...others)).toEqual({ told: [exchange], withheld: [] });
    });

    it('they are told by the angles of their screens', () => {
      const others = [screened(blue), screened({ ...red, seen: { ...red.seen, sheet: 3 } })];
      expect(judge(screened(grey(1, 1)), ...others)).toEqual({ told: [], withheld: [] });
      expect(judge(swapped(screened(grey(1, 1)), true), ...others)).toEqual({ told: [exchange], withheld: [] });
    });

    describe('with a colour bar beside the pages', () => {
      /** As long as there are patches, one ink after the other; crop marks in all inks. */
      const marked = (of: PlateSide, patches: number): PlateSide => {
        const inks = ['cyan', 'magenta', 'yellow', 'black'];
        return withPlates(of, (plate) => {
          const own = Array.from({ length: patches }, (_, nth) => nth).filter((nth) => inks[nth % 4] === plate.ink);
          const bar = own.flatMap((nth) => Array.from({ length: 16 }, (_, at) => 20 + nth * 16 + at));
          const cells = Uint32Array.from([2, 3, ...bar]);
          return {
            ...plate,
            screen: null,
            marks: { columns: 40, rows: 60, cells, ink: Uint8Array.from(cells, () => 250) },
          };
        });
      };
      const taken = (of: PlateSide): PlateSide =>
        withPlates(of, (plate) => {
          const other = { cyan: 'magenta', magenta: 'cyan' }[plate.ink];
          return other === undefined ? plate : { ...plateOf(of, other), ink: plate.ink };
        });
      // colours that get as much of both inks
      const even = (sheet: number, page: number): PlateSide =>
        side(sheet, page, (at) => {
          const tone = 40 + ((patch(at, 9) * (30 + sheet)) % 200);
          return [tone, tone, tone];
        });

      it('they are told by the patches of each ink', () => {
        const others = [marked(even(2, 5), 20), marked(even(3, 9), 20)];
        expect(judge(marked(even(1, 1), 20), ...others)).toEqual({ told: [], withheld: [] });
        expect(judge(taken(marked(even(1, 1), 20)), ...others)).toEqual({ told: [exchange], withheld: [] });
        expect(judge(taken(marked(even(1, 1), 20)), ...others.slice(1))).toEqual({ told: [], withheld: [] });
      });

      it('nothing is told by marks that all inks share, or by a bar of one side only', () => {
        expect(judge(...[1, 2, 3].map((sheet) => taken(marked(even(sheet, sheet), 0))))).toEqual({
          told: [],
          withheld: [],
        });
        const others = [marked(even(2, 5), 0), marked(even(3, 9), 0)];
        expect(judge(taken(marked(even(1, 1), 20)), ...others)).toEqual({ told: [], withheld: [] });
      });
    });

    it('one that is missing is told by what the same greys get on other sides, but not of a side of black alone', () => {
      const lacking = withPlates(grey(1, 1), ({ ink, ...plate }) => (ink === 'magenta' ? null : { ...plate, ink }));
      const alone = withPlates(grey(1, 1), ({ ink, ...plate }) => (ink === 'black' ? { ...plate, ink } : null));
      const others = [grey(2, 5), grey(3, 9)];
      expect(judge(lacking, ...others).told).toEqual([{ ...stop, kind: 'separation-missing', ink: 'magenta' }]);
      expect(judge(alone, ...others).told).toEqual([]);
    });

    it('nothing is told of two sides, since either may be the wrong one', () => {
      expect(judge(swapped(grey(1, 1), false), grey(2, 5))).toEqual({ told: [], withheld: [] });
    });
  });

  it('no cyan is missed where pages are black and white, and spot colours are no process ink', () => {
    const grey = side(1, 1, (at) => (patch(at, 30) % 2 === 0 ? [40, 40, 40] : [240, 240, 240]));
    const plates = [plateOf(grey, 'black'), { ...plateOf(grey, 'black'), ink: 'Gold', sha256: 'gold' }];
    expect(judge({ ...grey, plates }, blue)).toEqual({ told: [], withheld: [] });
  });
});
