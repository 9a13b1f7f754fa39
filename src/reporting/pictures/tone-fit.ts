import type { RgbPicture } from './rgb-picture.ts';

const SAMPLES = 5000;
/** A conversion stretches or compresses a channel by less than this; beyond, the fit would hide the difference. */
const GAIN = { least: 0.7, most: 1.4 };

/**
 * A copy of the revision with each channel stretched and shifted to fit the dummy's, so that a map of the difference
 * shows what a conversion does not explain. The third of the samples that fits worst has no say in it; where a fit makes
 * nothing better, the copy is like the original.
 *
 * @param pair  two pictures of the same size
 * @source common practice, no source: trimmed least squares
 */
export function fitTone(pair: { readonly dummy: RgbPicture; readonly revision: RgbPicture }): RgbPicture {
  const { dummy, revision } = pair;
  const tables = [0, 1, 2].map((channel) => channelTable(dummy.rgb, revision.rgb, channel));
  const rgb = new Uint8Array(revision.rgb.length);
  for (let at = 0; at < rgb.length; at += 1) rgb[at] = tables[at % 3]?.[revision.rgb[at] ?? 0] ?? 0;
  return { width: revision.width, height: revision.height, rgb };
}

/** Levels of one channel at the same places of both pictures; typed, for there are thousands for each finding. */
interface Samples {
  readonly from: Uint8Array;
  readonly to: Uint8Array;
}

interface Line {
  readonly gain: number;
  readonly offset: number;
}

function channelTable(dummy: Uint8Array, revision: Uint8Array, channel: number): Uint8ClampedArray {
  const step = Math.max(1, Math.floor(dummy.length / 3 / SAMPLES)) * 3;
  const count = Math.ceil((dummy.length - channel) / step);
  const samples = { from: new Uint8Array(count), to: new Uint8Array(count) };
  for (let index = 0, at = channel; index < count; index += 1, at += step) {
    samples.from[index] = revision[at] ?? 0;
    samples.to[index] = dummy[at] ?? 0;
  }
  let line: Line = { gain: 1, offset: 0 };
  let best = bestUnder(samples, line);
  // From nothing, and each time from the samples that agree best so far: what is not there on one side has no say.
  for (let round = 0; round < 3; round += 1) {
    const next = fitLine(samples, line, best.limit);
    const nextBest = bestUnder(samples, next);
    if (nextBest.meanMiss >= best.meanMiss) break;
    line = next;
    best = nextBest;
  }
  return Uint8ClampedArray.from({ length: 256 }, (_, level) => line.gain * level + line.offset);
}

function missesOf({ from, to }: Samples, { gain, offset }: Line): Float64Array {
  const misses = new Float64Array(from.length);
  for (let index = 0; index < misses.length; index += 1) {
    misses[index] = Math.abs(gain * (from[index] ?? 0) + offset - (to[index] ?? 0));
  }
  return misses;
}

/** By how much the best two thirds of the samples miss a line at most, and in the mean. */
function bestUnder(samples: Samples, line: Line): { readonly limit: number; readonly meanMiss: number } {
  const best = missesOf(samples, line)
    .sort()
    .subarray(0, Math.ceil(samples.from.length / 1.5));
  return { limit: best.at(-1) ?? 0, meanMiss: best.reduce((sum, miss) => sum + miss, 0) / Math.max(1, best.length) };
}

/** The line through the samples that miss `near` by no more than `limit`. */
function fitLine(samples: Samples, near: Line, limit: number): Line {
  const counts = missesOf(samples, near).map((miss) => (miss <= limit ? 1 : 0));
  const total = Math.max(
    1,
    counts.reduce((sum, isIn) => sum + isIn, 0),
  );
  const mean = (of: Uint8Array): number =>
    counts.reduce((sum, isIn, index) => sum + isIn * (of[index] ?? 0), 0) / total;
  const [from, to] = [mean(samples.from), mean(samples.to)];
  let both = 0;
  let square = 0;
  counts.forEach((isIn, index) => {
    const away = (samples.from[index] ?? 0) - from;
    both += isIn * away * ((samples.to[index] ?? 0) - to);
    square += isIn * away * away;
  });
  const gain = square < total ? 1 : Math.min(GAIN.most, Math.max(GAIN.least, both / square));
  return { gain, offset: to - gain * from };
}
