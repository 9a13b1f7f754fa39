import { createRequire } from 'node:module';
import { readFileSync } from 'node:fs';
import { dirname, relative, resolve, isAbsolute, sep } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = dirname(createRequire(import.meta.url).resolve('pdfjs-dist/package.json'));

/** A folder of the renderer's package, as the renderer wants it: ending in a separator. */
export function assetFolder(name: 'cmaps' | 'iccs' | 'standard_fonts' | 'wasm'): string {
  return `${ROOT}/${name}/`;
}

/**
 * One of the renderer's own files (colour engine, profiles, fonts, decoders); nothing else on the disk is ever given.
 *
 * @param address  a path or a file: address, as the renderer asks for it
 */
function readAsset(address: string): Uint8Array<ArrayBuffer> {
  const path = address.startsWith('file:') ? fileURLToPath(address) : resolve(address);
  const within = relative(ROOT, path);
  if (within === '' || within === '..' || within.startsWith(`..${sep}`) || isAbsolute(within)) {
    throw new Error(`not a file of the renderer: ${address}`);
  }
  return new Uint8Array(readFileSync(path));
}

/**
 * The part of XMLHttpRequest that the renderer's colour engine uses, for its own files only. Without it the renderer
 * falls back, silently, to a guess at CMYK and ignores every profile.
 */
class AssetRequest {
  status = 0;
  response: ArrayBuffer | null = null;
  responseType = '';
  #address = '';

  open(_method: string, address: string): void {
    this.#address = address;
  }

  send(): void {
    this.response = readAsset(this.#address).buffer;
    this.status = 200;
  }
}

/**
 * Lets the renderer load its own files in Node as it does in a browser. Has to run before the renderer is imported.
 * Addresses that are no files go to the runtime's own `fetch`, so that a process may draw and do other things as well;
 * the renderer is never given one.
 */
export function serveAssets(): void {
  const fetchElsewhere = globalThis.fetch;
  Object.assign(globalThis, {
    XMLHttpRequest: AssetRequest,
    fetch: async (...request: Parameters<typeof fetch>) => {
      const [wanted] = request;
      const address = wanted instanceof Request ? wanted.url : wanted.toString();
      return /^(file:|\/|[A-Za-z]:\\)/.test(address) ? new Response(readAsset(address)) : fetchElsewhere(...request);
    },
  });
}
