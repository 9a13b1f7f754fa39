/** Memory of WebAssembly grows by these. */
const WASM_PAGE = 65_536;

/**
 * A kernel's module. Where a room's files are also taken by the pages, to be called when it is first asked for: their
 * policy forbids compiling.
 *
 * @param code  its bytes in base64, as `npm run kernels` writes them
 */
export function kernelModule(code: string): WebAssembly.Module {
  return new WebAssembly.Module(Uint8Array.from(atob(code), (letter) => letter.charCodeAt(0)));
}

/** Lets a kernel's memory have at least so many bytes; views of it that were made before are void where it grew. */
export function growMemory(memory: WebAssembly.Memory, bytes: number): void {
  const missing = bytes - memory.buffer.byteLength;
  if (missing > 0) memory.grow(Math.ceil(missing / WASM_PAGE));
}

/** A kernel's function: places in its memory, counts and numbers in the order that it names them. */
export type Kernel<Returns> = (this: void, ...given: readonly number[]) => Returns;

/** What a kernel exports; it is compiled when it is first asked for. */
export function kernelOf<Exports>(code: string): () => Exports {
  let loaded: Exports | null = null;
  return () => (loaded ??= new WebAssembly.Instance(kernelModule(code)).exports as unknown as Exports);
}

/** Bytes that a kernel may read or write behind what lies in its memory. */
const SPARE = 64;

/** Each memory as bytes: a view costs more than what many calls do with it. */
const bytesOf = new WeakMap<WebAssembly.Memory, Uint8Array<ArrayBuffer>>();

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
  let memory = bytesOf.get(own);
  // one that has grown has another buffer
  if (memory?.buffer !== own.buffer) {
    memory = new Uint8Array(own.buffer);
    bytesOf.set(own, memory);
  }
  return { memory, at };
}
