import type { RgbPicture } from './rgb-picture.ts';

const SAMPLES = 12_000;
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

interface Sample {
  readonly from: number;
  readonly to: number;
}

interface Line {
  readonly gain: number;
  readonly offset: number;
}

function channelTable(dummy: Uint8Array, revision: Uint8Array, channel: number): Uint8ClampedArray {
  const step = Math.max(1, Math.floor(dummy.length / 3 / SAMPLES)) * 3;
  const samples: Sample[] = [];
  for (let at = channel; at < dummy.length; at += step) samples.push({ from: revision[at] ?? 0, to: dummy[at] ?? 0 });
  let line: Line = { gain: 1, offset: 0 };
  // From nothing, and each time from the samples that agree best so far: what is not there on one side has no say.
  for (let round = 0; round < 3; round += 1) {
    const next = fitLine(bestOf(samples, line));
    if (meanMiss(bestOf(samples, next), next) >= meanMiss(bestOf(samples, line), line)) break;
    line = next;
  }
  return Uint8ClampedArray.from({ length: 256 }, (_, level) => line.gain * level + line.offset);
}

function missOf({ from, to }: Sample, { gain, offset }: Line): number {
  return Math.abs(gain * from + offset - to);
}

/** The two thirds of the samples that lie nearest to a line. */
function bestOf(samples: readonly Sample[], line: Line): readonly Sample[] {
  const misses = Float64Array.from(samples, (sample) => missOf(sample, line)).sort();
  const most = misses[Math.ceil(samples.length / 1.5) - 1] ?? 0;
  return samples.filter((sample) => missOf(sample, line) <= most);
}

function meanMiss(samples: readonly Sample[], line: Line): number {
  return samples.reduce((sum, sample) => sum + missOf(sample, line), 0) / Math.max(1, samples.length);
}

function fitLine(samples: readonly Sample[]): Line {
  const count = Math.max(1, samples.length);
  let from = 0;
  let to = 0;
  for (const sample of samples) {
    from += sample.from / count;
    to += sample.to / count;
  }
  let both = 0;
  let square = 0;
  for (const sample of samples) {
    both += (sample.from - from) * (sample.to - to);
    square += (sample.from - from) ** 2;
  }
  const gain = square < count ? 1 : Math.min(GAIN.most, Math.max(GAIN.least, both / square));
  return { gain, offset: to - gain * from };
}
