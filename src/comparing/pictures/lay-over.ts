import { readField } from '../kernels/fields.ts';
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
  const { lab, inside } = readField(revision, dummy, map, speaks);
  return { width, height, dummy: dummy.lab, revision: lab, speaks: inside };
}
