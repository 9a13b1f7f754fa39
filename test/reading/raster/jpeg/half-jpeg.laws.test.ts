import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { halfJpeg } from '../../../../src/reading/raster/jpeg/half-jpeg.ts';
import { chance, jpegOf, layoutOf, MARKERS, pictureOf, putTogether, takeApart } from './jpeg-files.ts';

interface Sample {
  readonly file: Buffer;
  readonly layout: ReturnType<typeof layoutOf>;
  readonly bytes: number;
}

const [WIDTH, HEIGHT] = [37, 21];
const [HALF_WIDTH, HALF_HEIGHT] = [19, 11];

let samples: readonly Sample[] = [];
beforeAll(async () => {
  const kinds = [1, 3, 4].flatMap((channels) => [100, 60].map((quality) => [channels as 1 | 3 | 4, quality] as const));
  samples = await Promise.all(
    kinds.map(async ([channels, quality]) => {
      const next = chance(channels * quality);
      const picture = pictureOf(WIDTH, HEIGHT, channels, () => Math.floor(next() * 256));
      const file = await jpegOf(picture, { quality, optimiseCoding: quality === 100 });
      return { file, layout: layoutOf(file), bytes: HALF_WIDTH * HALF_HEIGHT * channels };
    }),
  );
});

/** Half of what the page says is such a picture, copied; null where it is left to the library. */
function halved(file: Uint8Array, { layout }: Sample): Buffer | null {
  const found = halfJpeg(file, layout);
  return found === null ? null : Buffer.from(found.data);
}

/** A change to a file's bytes: where, how many go, and what comes instead. */
const change = fc.record({
  at: fc.nat(),
  gone: fc.oneof(fc.constant(1), fc.nat({ max: 40 })),
  come: fc.oneof(fc.uint8Array({ minLength: 1, maxLength: 1 }), fc.uint8Array({ maxLength: 40 })),
});
type Change = typeof change extends fc.Arbitrary<infer T> ? T : never;

function changed(file: Buffer, { at, gone, come }: Change): Buffer {
  const from = at % file.length;
  return Buffer.concat([file.subarray(0, from), come, file.subarray(from + gone)]);
}

const which = fc.nat({ max: 5 });

/** What must hold of any bytes; whether they were taken for a picture. */
function requireHarmless(bytes: Uint8Array, sample: Sample, other: Sample): boolean {
  const expected = halved(other.file, other);
  const found = halved(bytes, sample);
  expect(found?.length ?? sample.bytes).toBe(sample.bytes);
  const after = halved(other.file, other);
  // as a Buffer tells it: a deep comparison of each takes most of the time
  expect(expected !== null && after !== null && expected.equals(after)).toBe(true);
  const again = halved(bytes, sample);
  expect(found === null ? again === null : again?.equals(found)).toBe(true);
  return found !== null;
}

describe('half of a JPEG that is damaged', () => {
  it('is none, or one of the right size, the same each time; the next picture is as ever', () => {
    let taken = 0;
    let refused = 0;
    fc.assert(
      fc.property(which, which, fc.array(change, { minLength: 1, maxLength: 3 }), (one, other, changes) => {
        const sample = samples[one]!;
        const bytes = changes.reduce(changed, sample.file);
        if (requireHarmless(bytes, sample, samples[other]!)) taken += 1;
        else refused += 1;
      }),
      { numRuns: 400 },
    );
    expect(Math.min(taken, refused)).toBeGreaterThan(0);
  });

  it('is the same where only bytes of the coded data have changed', () => {
    let taken = 0;
    let refused = 0;
    fc.assert(
      fc.property(which, which, fc.nat(), fc.uint8Array({ minLength: 1, maxLength: 4 }), (one, other, at, come) => {
        const sample = samples[one]!;
        const { segments, coded } = takeApart(sample.file);
        const bytes = putTogether(segments, changed(Buffer.from(coded), { at, gone: come.length, come }));
        if (requireHarmless(bytes, sample, samples[other]!)) taken += 1;
        else refused += 1;
      }),
      { numRuns: 400 },
    );
    expect(Math.min(taken, refused)).toBeGreaterThan(0);
  });

  it('is the same where any bytes at all are coded, long or short', () => {
    fc.assert(
      fc.property(which, which, fc.uint8Array({ maxLength: 4000, size: 'max' }), (one, other, bytes) => {
        const { segments } = takeApart(samples[one]!.file);
        const end = [0xff, MARKERS.end];
        requireHarmless(putTogether(segments, Uint8Array.from([...bytes, ...end])), samples[one]!, samples[other]!);
      }),
      { numRuns: 150 },
    );
  });

  it('is none wherever the file is cut off', () => {
    fc.assert(
      fc.property(which, which, fc.nat(), (one, other, length) => {
        const sample = samples[one]!;
        const bytes = sample.file.subarray(0, length % sample.file.length);
        expect(requireHarmless(bytes, sample, samples[other]!)).toBe(false);
      }),
      { numRuns: 200 },
    );
  });

  it('is none where the last bytes that are coded are missing', () => {
    for (const [index, sample] of samples.entries()) {
      for (let missing = 1; missing <= 24; missing++) {
        const bytes = Buffer.concat([sample.file.subarray(0, -2 - missing), sample.file.subarray(-2)]);
        expect(requireHarmless(bytes, sample, samples[(index + 1) % samples.length]!)).toBe(false);
      }
    }
  });
});
