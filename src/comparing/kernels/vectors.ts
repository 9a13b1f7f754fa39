import { kernelOf, layOut } from '../../model/index.ts';
import { VECTORS } from './vectors-code.ts';

/** What `vectors.as` exports; places in its memory, counts and bytes. */
interface Exports {
  readonly memory: WebAssembly.Memory;
  distances(this: void, four: number, others: number, count: number, bytes: number, out: number): void;
}

const kernels = kernelOf<Exports>(VECTORS);

/**
 * Squared distances of every vector of one list from every one of another, summed in 32 bits: of vectors of 400 numbers
 * they are at most 1e-5 of themselves off.
 *
 * @param ones  vectors all equally long, a multiple of four
 * @param others  as long
 * @returns one row for each of `ones`
 */
export function squaredDistances(ones: readonly Float32Array[], others: readonly Float32Array[]): Float32Array {
  const apart = new Float32Array(ones.length * others.length);
  const bytes = (ones[0]?.length ?? 0) * 4;
  const { distances, memory: own } = kernels();
  const { memory, at } = layOut(own, 4 * bytes, others.length * bytes, 4 * others.length * 4);
  const [four = 0, first = 0, out = 0] = at;
  others.forEach((vector, index) => memory.set(bytesOf(vector), first + index * bytes));
  for (let from = 0; from < ones.length; from += 4) {
    const taken = ones.slice(from, from + 4);
    taken.forEach((vector, index) => memory.set(bytesOf(vector), four + index * bytes));
    distances(four, first, others.length, bytes, out);
    apart.set(new Float32Array(memory.buffer, out, taken.length * others.length), from * others.length);
  }
  return apart;
}

function bytesOf({ buffer, byteOffset, byteLength }: Float32Array): Uint8Array {
  return new Uint8Array(buffer, byteOffset, byteLength);
}
