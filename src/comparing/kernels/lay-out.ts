/** Bytes that a kernel may read or write behind what lies in its memory. */
const SPARE = 64;
const WASM_PAGE = 65_536;

/**
 * What a kernel's module exports. To be called when it is first asked for: the pages take colours from this room, and
 * their policy forbids compiling.
 *
 * @param code  the module's bytes in base64, as `npm run kernels` writes them
 */
export function compile(code: string): WebAssembly.Exports {
  const bytes = Uint8Array.from(atob(code), (letter) => letter.charCodeAt(0));
  return new WebAssembly.Instance(new WebAssembly.Module(bytes)).exports;
}

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
  const missing = end - own.buffer.byteLength;
  if (missing > 0) own.grow(Math.ceil(missing / WASM_PAGE));
  return { memory: new Uint8Array(own.buffer), at };
}
