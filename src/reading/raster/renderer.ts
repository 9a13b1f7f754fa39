import { readFileSync } from 'node:fs';
import { findPackageJSON } from 'node:module';

/** Read from its file: loading the package for it would take a tenth of a second. */
function versionOf(name: string): string {
  const path = findPackageJSON(name, import.meta.url);
  if (path === undefined) throw new Error(`${name} is not installed`);
  return (JSON.parse(readFileSync(path, 'utf8')) as { version: string }).version;
}

/** Raise it when a JPEG that is decoded straight to half (`jpeg/`) comes out otherwise. */
const HALF_JPEG_EDITION = 1;

/** What draws the rasters: a raster hash means something only together with it. */
export const RASTER_RENDERER = `pdfjs ${versionOf('pdfjs-dist')} + canvas ${versionOf('@napi-rs/canvas')} + sharp ${versionOf('sharp')} + half-jpeg ${HALF_JPEG_EDITION}`;
