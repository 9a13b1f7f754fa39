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
