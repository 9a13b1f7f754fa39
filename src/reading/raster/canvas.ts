import type * as Canvas from '@napi-rs/canvas';
import { assetFolder } from './pdfjs-assets.ts';

let loaded: Promise<typeof Canvas> | null = null;
let fonts: Promise<void> | null = null;

/** The families that the renderer falls back to where a file neither embeds a font nor names a standard one. */
const FALLBACKS = ['sans-serif', 'serif', 'monospace'];
/** The only fonts among the renderer's own that the canvas can load. */
const FILES = ['Regular', 'Bold', 'Italic', 'BoldItalic'].map((style) => `LiberationSans-${style}.ttf`);

/**
 * The canvas without the machine's fonts: a page must look the same wherever it is drawn. A font that is missing from a
 * file is drawn in one of the renderer's own. (A character which that lacks may still come from the machine.)
 */
export function loadCanvas(): Promise<typeof Canvas> {
  loaded ??= load();
  return loaded;
}

async function load(): Promise<typeof Canvas> {
  process.env.DISABLE_SYSTEM_FONTS_LOAD = '1';
  return import('@napi-rs/canvas');
}

/** Loads the fonts that the canvas itself sets text in; with them it opens every font of the machine, to leave it alone. */
export function loadFonts(): Promise<void> {
  fonts ??= registerFonts();
  return fonts;
}

async function registerFonts(): Promise<void> {
  const { GlobalFonts } = await loadCanvas();
  for (const family of FALLBACKS) {
    for (const file of FILES) GlobalFonts.registerFromPath(assetFolder('standard_fonts') + file, family);
  }
}
