import type { PageRaster, Ppi } from '../../model/index.ts';
import { kernelOf, layOut } from '../../model/index.ts';
import { SHRINKING } from './shrinking-code.ts';

/** What `shrinking.as` exports. */
interface Exports {
  readonly memory: WebAssembly.Memory;
  shrinkRow(
    this: void,
    rgb: number,
    stride: number,
    across: number,
    down: number,
    count: number,
    sums: number,
    out: number,
  ): void;
}

const CHANNELS = 3;
/** Pixels that may lie under one of the result along an axis; with the first one's place, 4 bytes each. */
const TAPS = 3;
const TAPS_BYTES = 4 * (1 + TAPS);

const kernels = kernelOf<Exports>(SHRINKING);

/**
 * A raster at a lower resolution, each pixel the mean of what lies under it: parts of pixels count as such, so that nothing
 * is off its place.
 *
 * @param ppi  at most its own, and at least half of it
 */
export function shrinkRaster({ width, height, ppi: ownPpi, rgb }: PageRaster, ppi: Ppi): PageRaster {
  const times = ownPpi / ppi;
  const size = { width: Math.max(1, Math.round(width / times)), height: Math.max(1, Math.round(height / times)) };
  const [stride, rowBytes] = [width * CHANNELS, size.width * CHANNELS];
  const { memory: own, shrinkRow } = kernels();
  const { memory, at } = layOut(
    own,
    ...[rgb.length, stride * 4, size.width * TAPS_BYTES, size.height * TAPS_BYTES, rowBytes * size.height],
  );
  const [rgbAt = 0, sumsAt = 0, acrossAt = 0, downAt = 0, outAt = 0] = at;
  const { buffer } = memory;
  memory.set(rgb, rgbAt);
  layTaps(new DataView(buffer, acrossAt), size.width, times, width);
  layTaps(new DataView(buffer, downAt), size.height, times, height);
  for (let row = 0; row < size.height; row++) {
    const down = downAt + row * TAPS_BYTES;
    shrinkRow(rgbAt, stride, acrossAt, down, size.width, sumsAt, outAt + row * rowBytes);
  }
  return { ...size, ppi, rgb: memory.slice(outAt, outAt + rowBytes * size.height) };
}

/** For each pixel of the result the first one under it, and which share of it each of three has; they add up to 1. */
function layTaps(into: DataView, count: number, times: number, pixels: number): void {
  for (let index = 0; index < count; index++) {
    const [start, end] = [index * times, Math.min(pixels, (index + 1) * times)];
    const from = Math.max(0, Math.min(Math.floor(start), pixels - TAPS));
    const at = index * TAPS_BYTES;
    into.setInt32(at, from, true);
    for (let tap = 0; tap < TAPS; tap++) {
      const covered = Math.max(0, Math.min(end, from + tap + 1) - Math.max(start, from + tap));
      into.setFloat32(at + 4 * (tap + 1), covered / (end - start), true);
    }
  }
}
