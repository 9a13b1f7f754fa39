/** How a square of a plate is screened. */
export interface ScreenOrder {
  readonly side: number;
  readonly ppi: number;
  readonly rulingLpi: number;
  readonly angleDeg: number;
  /** 0 to 1. */
  readonly tone: number;
}

/** An even tone in dots, round in light tones and in dark ones: 255 where there is ink. */
export function screened({ side, ppi, rulingLpi, angleDeg, tone }: ScreenOrder) {
  const wave = (2 * Math.PI * rulingLpi) / ppi;
  const [cos, sin] = [Math.cos((angleDeg * Math.PI) / 180), Math.sin((angleDeg * Math.PI) / 180)];
  const heights = Float64Array.from({ length: side * side }, (_, at) => {
    const [x, y] = [at % side, Math.floor(at / side)];
    return Math.cos(wave * (x * cos + y * sin)) + Math.cos(wave * (y * cos - x * sin));
  });
  const sorted = Float64Array.from(heights).sort();
  const least = sorted[Math.round((1 - tone) * (sorted.length - 1))]!;
  return { width: side, height: side, data: Uint8Array.from(heights, (height) => (height >= least ? 255 : 0)) };
}
