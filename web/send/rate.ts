/** Measures how fast something goes: smoothed, so that a figure can be read. */
export interface RateMeter {
  /** @returns bytes a second */
  at(ms: number, bytes: number): number;
}

/** Samples closer than this say nothing. */
const LEAST_MS = 250;
/** The share of the newest sample. @source common practice, no source */
const WEIGHT = 0.25;

/** A meter that begins at some place at some moment. */
export function rateMeter(startMs: number, startBytes: number): RateMeter {
  let [lastMs, lastBytes, rate] = [startMs, startBytes, 0];
  return {
    at(ms, bytes) {
      if (ms - lastMs < LEAST_MS) return rate;
      const now = ((bytes - lastBytes) * 1000) / (ms - lastMs);
      rate = rate === 0 ? now : rate + WEIGHT * (now - rate);
      [lastMs, lastBytes] = [ms, bytes];
      return rate;
    },
  };
}
