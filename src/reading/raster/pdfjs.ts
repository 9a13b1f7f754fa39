import type * as Pdfjs from 'pdfjs-dist';
import type { PDFDocumentProxy } from 'pdfjs-dist';
import { loadCanvas } from './canvas.ts';
import { canvasFactory } from './fonts-when-asked.ts';
import { responseWhenMade } from './late-response.ts';
import { assetFolder, serveAssets } from './pdfjs-assets.ts';

let loaded: Promise<typeof Pdfjs> | null = null;

/** The renderer, loaded when it is first needed: a process that only hands pages to others never pays for it. */
export function loadPdfjs(): Promise<typeof Pdfjs> {
  if (loaded === null) {
    serveAssets();
    // The renderer imports the canvas as well; it has to be without the machine's fonts by then.
    loaded = loadCanvas().then(importPdfjs);
  }
  return loaded;
}

async function importPdfjs(): Promise<typeof Pdfjs> {
  responseWhenMade();
  return (await import('pdfjs-dist/legacy/build/pdf.mjs')) as typeof Pdfjs;
}

/**
 * A file opened by the renderer for as long as `use` takes. Fonts come from the file or from the renderer's own standard
 * fonts, never from the machine.
 *
 * @param file  handed over: unusable afterwards
 */
export async function withDocument<T>(file: Uint8Array, use: (document: PDFDocumentProxy) => Promise<T>): Promise<T> {
  const { getDocument, VerbosityLevel } = await loadPdfjs();
  const task = getDocument({
    data: file,
    standardFontDataUrl: assetFolder('standard_fonts'),
    cMapUrl: assetFolder('cmaps'),
    cMapPacked: true,
    CanvasFactory: await canvasFactory(),
    wasmUrl: assetFolder('wasm'),
    iccUrl: assetFolder('iccs'),
    useWorkerFetch: true,
    useSystemFonts: false,
    disableFontFace: true,
    // Names, ascents and descents of fonts come only with this.
    fontExtraProperties: true,
    isOffscreenCanvasSupported: false,
    verbosity: VerbosityLevel.ERRORS,
  });
  try {
    return await use(await task.promise);
  } finally {
    await task.destroy();
  }
}
