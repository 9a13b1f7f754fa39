/** Side of every fixture, in pixels. */
export const SIDE = 64;

type Formula = (x: number, y: number) => number;

const waves: Formula = (x, y) => (7 * x + 13 * y + Math.floor((x * y) / 4)) % 256;
const slope: Formula = (x, y) => Math.floor((x * x + 2 * y * y + x * y) / 64) % 256;
const noise: Formula = (x, y) => ((31 * x + 17 * y + x * y) % 41) - 20;
const clip = (value: number) => Math.max(0, Math.min(255, value));

const FORMULAS: Readonly<Record<string, Formula>> = {
  A: waves,
  S: slope,
  A_noise: (x, y) => clip(waves(x, y) + noise(x, y)),
  S_noise: (x, y) => clip(slope(x, y) + noise(x, y)),
  A_plus10: (x, y) => clip(waves(x, y) + 10),
  A_inv: (x, y) => 255 - waves(x, y),
  S_roll1: (x, y) => slope((x + SIDE - 1) % SIDE, y),
  S_contrast: (x, y) => Math.floor(slope(x, y) / 2) + 64,
  white: () => 255,
  mid: () => 128,
  black: () => 0,
};

/** A grey picture of 64 x 64 that anybody can build again from its formula; x to the right, y down. */
export function greyFixture(name: string): Uint8Array {
  const formula = FORMULAS[name];
  if (formula === undefined) throw new Error(`no fixture ${name}`);
  return Uint8Array.from({ length: SIDE * SIDE }, (_, at) => formula(at % SIDE, Math.floor(at / SIDE)));
}
