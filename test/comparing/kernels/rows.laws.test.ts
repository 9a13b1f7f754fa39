import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { halveRgb, placesApart, smoothRgb } from '../../../src/comparing/kernels/rows.ts';

const size = fc.tuple(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 1, max: 9 }));
/** A picture of that size, and its bytes by place, with the rim going on beyond it. */
const picture = size.chain(([width, height]) =>
  fc
    .uint8Array({ minLength: width * height * 3, maxLength: width * height * 3 })
    .map((rgb) => ({ rgb, width, height })),
);
interface Picture {
  readonly rgb: Uint8Array;
  readonly width: number;
  readonly height: number;
}

function byteAt({ rgb, width, height }: Picture, x: number, y: number, channel: number): number {
  const [column, row] = [Math.max(0, Math.min(width - 1, x)), Math.max(0, Math.min(height - 1, y))];
  return rgb[(row * width + column) * 3 + channel]!;
}

/** A picture made a byte at a time from its definition. */
function madeOf(width: number, height: number, byte: (x: number, y: number, channel: number) => number): number[] {
  return Array.from({ length: width * height * 3 }, (_, at) => {
    const pixel = Math.floor(at / 3);
    return byte(pixel % width, Math.floor(pixel / width), at % 3);
  });
}

describe('a picture', () => {
  it('halved has the mean of 2 x 2 pixels, half up, whatever its size', () => {
    fc.assert(
      fc.property(picture, (one) => {
        const [width, height] = [Math.max(1, one.width >> 1), Math.max(1, one.height >> 1)];
        const expected = madeOf(width, height, (x, y, channel) => {
          const of = (right: number, below: number): number => byteAt(one, 2 * x + right, 2 * y + below, channel);
          return Math.floor((of(0, 0) + of(1, 0) + of(0, 1) + of(1, 1)) / 4 + 0.5);
        });
        expect([...halveRgb(one.rgb, one.width, one.height)]).toEqual(expected);
      }),
    );
  });

  it('smoothed has each pixel mixed with its eight neighbours, 1 2 1 each way, half up', () => {
    fc.assert(
      fc.property(picture, (one) => {
        const expected = madeOf(one.width, one.height, (x, y, channel) => {
          let sum = 0;
          for (const [right, of] of [1, 2, 1].entries()) {
            for (const [below, by] of [1, 2, 1].entries()) {
              sum += of * by * byteAt(one, x + right - 1, y + below - 1, channel);
            }
          }
          return Math.floor(sum / 16 + 0.5);
        });
        expect([...smoothRgb(one.rgb, one.width, one.height)]).toEqual(expected);
      }),
    );
  });

  it('of a row longer than the memory at hand is taken all the same', () => {
    const width = 400_000;
    const rgb = Uint8Array.from({ length: width * 3 }, (_, at) => at % 251);
    expect(Buffer.compare(smoothRgb(rgb, 4, width / 4), rgb)).not.toBe(0);
    const whole = smoothRgb(rgb, width, 1);
    expect([whole.length, whole[0], whole.at(-1)]).toEqual([
      width * 3,
      Math.floor((3 * rgb[0]! + rgb[3]!) / 4 + 0.5),
      Math.floor((3 * rgb.at(-1)! + rgb.at(-4)!) / 4 + 0.5),
    ]);
  });
});

describe('two rows of pixels', () => {
  it('are apart where an open place, but for the ends, differs by so many levels in all three channels together', () => {
    const rows = fc.integer({ min: 2, max: 60 }).chain((width) => {
      const bytes = fc.uint8Array({ minLength: width * 3, maxLength: width * 3 });
      const open = fc.array(fc.integer({ min: 0, max: 1 }), { minLength: width, maxLength: width });
      // Rows alike but for a little, as pages are: noise alone would be apart everywhere.
      const shift = fc.array(fc.integer({ min: -12, max: 12 }), { minLength: width * 3, maxLength: width * 3 });
      return fc.record({ one: bytes, shift, open, least: fc.integer({ min: 1, max: 60 }) });
    });
    fc.assert(
      fc.property(rows, ({ one, shift, open, least }) => {
        const other = one.map((byte, at) => Math.max(0, Math.min(255, byte + shift[at]!)));
        const expected = open.flatMap((isOpen, x) => {
          if (isOpen === 0 || x === 0 || x === open.length - 1) return [];
          const sum = [0, 1, 2].reduce((so, c) => so + Math.abs(one[x * 3 + c]! - other[x * 3 + c]!), 0);
          return sum >= least ? [x] : [];
        });
        expect([...placesApart({ one, other, open: Uint8Array.from(open) }, least)]).toEqual(expected);
      }),
      { numRuns: 500 },
    );
  });
});
