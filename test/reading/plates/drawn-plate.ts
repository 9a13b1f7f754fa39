import sharp from 'sharp';
import { run } from '../pdf/outside-tool.ts';

/** A plate as pixels: 255 where there is ink, row by row from the top left. */
export interface DrawnPlate {
  readonly width: number;
  readonly height: number;
  readonly ink: Uint8Array;
}

/** Whole numbers from 0, always the same for a seed. @source xorshift32, Marsaglia (2003); from memory */
export function numbersOf(seed: number): (below: number) => number {
  let state = (seed | 0) === 0 ? 1 : seed | 0;
  return (below) => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) % below;
  };
}

/**
 * A plate whose rows are of all kinds: like the one above but for some columns, of short runs, of long ones, of one colour.
 */
export function drawPlate(width: number, height: number, seed: number): DrawnPlate {
  const next = numbersOf(seed);
  const ink = new Uint8Array(width * height);
  const longest = [3, 20, 70, 300, 3000, 9000];
  let changes: readonly number[] = [];
  for (let y = 0; y < height; y++) {
    const kind = next(8);
    if (kind < 5) {
      const reach = 1 + next(5);
      changes = changes.map((at) => (next(3) === 0 ? at : at + next(2 * reach + 1) - reach));
      if (next(4) === 0) changes = [...changes, next(width), next(width)];
      if (next(4) === 0) changes = changes.slice(0, next(changes.length + 1));
    } else if (kind < 7) {
      const most = longest[next(longest.length)]!;
      const fresh: number[] = [];
      for (let at = next(2) * next(most); at < width; at += 1 + next(most)) fresh.push(at);
      changes = fresh;
    } else {
      changes = next(2) === 0 ? [] : [0];
    }
    changes = [...new Set(changes.filter((at) => at >= 0 && at < width))].sort((one, other) => one - other);
    for (const [index, from] of changes.entries()) {
      if (index % 2 === 0) ink.fill(255, y * width + from, y * width + (changes[index + 1] ?? width));
    }
  }
  return { width, height, ink };
}

/** Writes it in fax group 4 by libtiff, as sharp has it. */
export async function writePlate(path: string, plate: DrawnPlate, whiteIsZero: boolean): Promise<void> {
  const { width, height, ink } = plate;
  await sharp(
    ink.map((value) => 255 - value),
    { raw: { width, height, channels: 1 } },
  )
    .toColourspace('b-w')
    .tiff({ compression: 'ccittfax4', bitdepth: 1, miniswhite: whiteIsZero, xres: 40, yres: 40 })
    .toFile(path);
}

/** Writes it again by libtiff's own program: rows of a strip, order of bits. */
export function copyPlate(from: string, to: string, perStrip: number, order: 'lsb2msb' | 'msb2lsb'): void {
  run('tiffcp', ['-c', 'g4', '-r', String(perStrip), '-f', order, from, to]);
}
