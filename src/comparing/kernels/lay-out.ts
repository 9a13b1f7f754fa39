import { growMemory } from '../../model/index.ts';

/** Bytes that a kernel may read or write behind what lies in its memory. */
const SPARE = 64;

/** Room in a kernel's memory for stretches of the given bytes, one behind the other; the memory grows where it must. */
export function layOut(
  own: WebAssembly.Memory,
  ...lengths: readonly number[]
): { readonly memory: Uint8Array<ArrayBuffer>; readonly at: readonly number[] } {
  const at: number[] = [];
  let end = SPARE;
  for (const length of lengths) {
    at.push(end);
    end += (length + SPARE + 15) & ~15;
  }
  growMemory(own, end);
  return { memory: new Uint8Array(own.buffer), at };
}
