import type { ColourField } from '../page-colours.ts';
import type { Affine } from '../registration/similarity.ts';

/** The revision's colours read where the registration says, cell by cell of the dummy's window. */
export interface LaidOver {
  readonly width: number;
  readonly height: number;
  /** L*, a*, b* a cell. */
  readonly dummy: Float32Array;
  readonly revision: Float32Array;
  /** 1 where both sides show picture and nothing else covers it. */
  readonly speaks: Uint8Array;
}

/**
 * Lays the revision over the dummy.
 *
 * @param map    from dummy cells to revision cells of the page (cell edges, not centres)
 * @param speaks 0 where a cell must not speak; as large as the dummy's field; or null
 */
export function layOver(
  { dummy, revision }: { readonly dummy: ColourField; readonly revision: ColourField },
  map: Affine,
  speaks: Uint8Array | null,
): LaidOver {
  const { width, height } = dummy;
  const out = new Float32Array(width * height * 3);
  const inside = new Uint8Array(width * height);
  const rows = { dummy, revision, map, speaks, out, inside };
  for (let y = 0; y < height; y++) layRow(rows, y);
  return { width, height, dummy: dummy.lab, revision: out, speaks: inside };
}

interface Rows {
  readonly dummy: ColourField;
  readonly revision: ColourField;
  readonly map: Affine;
  readonly speaks: Uint8Array | null;
  readonly out: Float32Array;
  readonly inside: Uint8Array;
}

function layRow({ dummy, revision, map: [a, b, c, d, e, f], speaks, out, inside }: Rows, y: number): void {
  const source = revision.lab;
  const row = revision.width * 3;
  const right = revision.width > 1 ? 3 : 0;
  const below = revision.height > 1 ? row : 0;
  const [lastX, lastY] = [revision.width - 0.5, revision.height - 0.5];
  const py = dummy.top + y + 0.5;
  for (let x = 0, cell = y * dummy.width; x < dummy.width; x++, cell++) {
    if (speaks !== null && speaks[cell] === 0) continue;
    const px = dummy.left + x + 0.5;
    let u = a * px + c * py + e - revision.left - 0.5;
    let v = b * px + d * py + f - revision.top - 0.5;
    if (u < -0.5 || v < -0.5 || u > lastX || v > lastY) continue;
    u = Math.max(0, Math.min(revision.width - 1.001, u));
    v = Math.max(0, Math.min(revision.height - 1.001, v));
    const left = u | 0;
    const top = v | 0;
    const p = u - left;
    const q = v - top;
    const w00 = (1 - p) * (1 - q);
    const w10 = p * (1 - q);
    const w01 = (1 - p) * q;
    const w11 = p * q;
    const i = top * row + left * 3;
    const j = i + right;
    const k = i + below;
    const l = k + right;
    const to = cell * 3;
    out[to] = w00 * source[i]! + w10 * source[j]! + w01 * source[k]! + w11 * source[l]!;
    out[to + 1] = w00 * source[i + 1]! + w10 * source[j + 1]! + w01 * source[k + 1]! + w11 * source[l + 1]!;
    out[to + 2] = w00 * source[i + 2]! + w10 * source[j + 2]! + w01 * source[k + 2]! + w11 * source[l + 2]!;
    inside[cell] = 1;
  }
}
