import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { labFromSrgb } from '../../../src/comparing/colour/lab.ts';
import type { ColourMap } from '../../../src/comparing/conversion/colour-map.ts';
import { applyColourMap, fitColourMap, UNCHANGED } from '../../../src/comparing/conversion/colour-map.ts';
import { chanceFrom } from '../pairing/made-up-pages.ts';

type Colour = readonly [l: number, a: number, b: number];
type Change = (colour: Colour) => Colour;

const byte = fc.integer({ min: 0, max: 255 });
const anyColour = fc.tuple(byte, byte, byte).map(([r, g, b]): Colour => {
  const { l, a, b: yellow } = labFromSrgb(r, g, b);
  return [l, a, yellow];
});

/** Colours of a picture book: all lightnesses, mostly subdued, some vivid. */
function bookColours(count: number, seed: number): Colour[] {
  const chance = chanceFrom(seed);
  return Array.from({ length: count }, (): Colour => {
    const grey = 15 + 230 * chance();
    const [red, blue] = [120 * (chance() - 0.5), 120 * (chance() - 0.5)];
    const clip = (value: number) => Math.max(0, Math.min(255, value));
    const { l, a, b } = labFromSrgb(clip(grey + red), clip(grey - red / 3), clip(grey + blue));
    return [l, a, b];
  });
}

function fit(before: readonly Colour[], after: readonly Colour[], weights?: readonly number[]): ColourMap {
  return fitColourMap(
    {
      dummy: Float32Array.from(before.flat()),
      revision: Float32Array.from(after.flat()),
      weights: Float32Array.from(weights ?? before.map(() => 1)),
    },
    UNCHANGED,
    0.002,
    30,
  );
}

function mapped(map: ColourMap, [l, a, b]: Colour): Colour {
  const out = new Float32Array(3);
  applyColourMap(map, l, a, b, out, 0);
  return [out[0]!, out[1]!, out[2]!];
}

const distance = (one: Colour, other: Colour) => Math.hypot(one[0] - other[0], one[1] - other[1], one[2] - other[2]);

/** How far the fitted map is off what was done, at worst and on average, over the colours themselves. */
function misfit(colours: readonly Colour[], map: ColourMap, change: Change): { mean: number; worst: number } {
  const off = colours.map((colour) => distance(mapped(map, colour), change(colour)));
  return { mean: off.reduce((sum, value) => sum + value, 0) / off.length, worst: Math.max(...off) };
}

/** Uncoated stock: black no darker than 16, white no lighter than 95, less colour, a warm paper. */
const uncoated: Change = ([l, a, b]) => [16 + 0.79 * l, 0.75 * a + 0.5, 0.7 * b + 2.5];
/** A gamut that holds vivid colours back more than subdued ones. */
const smallGamut: Change = ([l, a, b]) => {
  const chroma = Math.hypot(a, b);
  const kept = 1 - 0.004 * chroma;
  return [l + 0.02 * chroma, a * kept, b * kept];
};
const openedMidTones: Change = ([l, a, b]) => [100 * (l / 100) ** 0.85, a, b];

describe('a map of colours', () => {
  it('that changes nothing leaves every colour as it is', () => {
    fc.assert(
      fc.property(anyColour, (colour) => {
        expect(distance(mapped(UNCHANGED, colour), colour)).toBeLessThan(1e-4);
      }),
      { seed: 20261125 },
    );
  });

  it('writes where it is told to and nowhere else', () => {
    const out = new Float32Array(9).fill(-1);
    applyColourMap(UNCHANGED, 50, 10, -20, out, 3);
    expect([...out].map((value) => Math.round(value))).toEqual([-1, -1, -1, 50, 10, -20, -1, -1, -1]);
  });
});

describe('a conversion of the whole book', () => {
  const colours = bookColours(2500, 1);

  it.each<[string, Change]>([
    ['for uncoated stock', uncoated],
    ['into a smaller gamut', smallGamut],
    ['with opened mid tones', openedMidTones],
    ['that changes nothing', (colour) => colour],
  ])('%s is found again from the colours before and after', (_, change) => {
    const { mean, worst } = misfit(colours, fit(colours, colours.map(change)), change);
    // One unit is just visible side by side.
    expect(mean).toBeLessThan(1);
    expect(worst).toBeLessThan(4);
  });

  it('holds for colours that were not asked', () => {
    const map = fit(colours, colours.map(uncoated));
    expect(misfit(bookColours(300, 99), map, uncoated).mean).toBeLessThan(0.5);
  });

  it('is found through grain and compression', () => {
    const chance = chanceFrom(5);
    const grain = ([l, a, b]: Colour): Colour => [
      l + 6 * (chance() - 0.5),
      a + 6 * (chance() - 0.5),
      b + 6 * (chance() - 0.5),
    ];
    const map = fit(
      colours,
      colours.map((colour) => grain(uncoated(colour))),
    );
    expect(misfit(colours, map, uncoated).mean).toBeLessThan(0.7);
  });
});

describe('what is not the conversion', () => {
  const colours = bookColours(2500, 2);

  it('a retouched part that became red is not followed', () => {
    const retouched = colours.map((colour, at): Colour => (at % 20 === 0 ? [45, 60, 40] : uncoated(colour)));
    const map = fit(colours, retouched);
    expect(misfit(colours, map, uncoated).mean).toBeLessThan(0.5);
    const red: Colour = [45, 60, 40];
    const told = colours.filter((_, at) => at % 20 === 0).map((colour) => distance(mapped(map, colour), red));
    // What was retouched still stands out.
    expect(told.filter((off) => off > 20).length / told.length).toBeGreaterThan(0.95);
  });

  it('a balloon of one colour that became another is not followed among other colours', () => {
    const blue: Colour = [70, -5, -25];
    const [before, after] = [[...colours], colours.map(uncoated)];
    for (let at = 0; at < 40; at++) {
      before[at * 60] = blue;
      after[at * 60] = [60, 20, 30];
    }
    const map = fit(before, after);
    expect(distance(mapped(map, blue), uncoated(blue))).toBeLessThan(5);
  });

  it('places of no weight are not asked', () => {
    const after = colours.map((colour, at): Colour => (at % 2 === 0 ? [0, 0, 0] : uncoated(colour)));
    const map = fit(
      colours,
      after,
      colours.map((_, at) => at % 2),
    );
    expect(misfit(colours, map, uncoated).mean).toBeLessThan(0.5);
  });
});

describe('where nothing is seen', () => {
  it('the map is the one that was expected', () => {
    expect(fit([], [])).toEqual(UNCHANGED);
    const colours = bookColours(50, 3);
    expect(
      fit(
        colours,
        colours.map(uncoated),
        colours.map(() => 0),
      ),
    ).toEqual(UNCHANGED);
  });

  it('one tone is carried over, and the others are not led far astray by it', () => {
    const grey: Colour = [50, 0, 0];
    const after: Colour = [54, 1, 3];
    const map = fit(new Array<Colour>(400).fill(grey), new Array<Colour>(400).fill(after));
    expect(distance(mapped(map, grey), after)).toBeLessThan(0.5);
    for (const colour of [
      [20, 10, -10],
      [85, -15, 20],
    ] as const) {
      expect(distance(mapped(map, colour), colour)).toBeLessThan(8);
    }
  });
});
