const WAVES = 40;

/** Forty waves across a strip of odd width, as samples of `channels` equal channels. */
export function waves(width: number, height: number, channels: number): Uint8Array {
  return Uint8Array.from({ length: width * height * channels }, (_, at) => {
    const x = Math.floor(at / channels) % width;
    return Math.round(128 + 100 * Math.cos((2 * Math.PI * WAVES * (x + 0.5)) / width));
  });
}

/**
 * How far the given wave lies from its place, in pixels.
 *
 * @param shown  pixels that the strip takes, where the last of the row lies partly outside
 */
export function shiftOfWave(row: readonly number[], wave: number, shown = row.length): number {
  const period = shown / WAVES;
  let [real, imaginary] = [0, 0];
  for (let x = Math.round(wave * period); x < Math.round((wave + 4) * period); x++) {
    const phase = (2 * Math.PI * (x + 0.5)) / period;
    real += ((row[x] ?? 0) - 128) * Math.cos(phase);
    imaginary += ((row[x] ?? 0) - 128) * Math.sin(phase);
  }
  return (Math.atan2(imaginary, real) * period) / (2 * Math.PI);
}
