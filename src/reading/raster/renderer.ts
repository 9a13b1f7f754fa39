import { createRequire } from 'node:module';
import sharp from 'sharp';

const require = createRequire(import.meta.url);

function versionOf(name: string): string {
  return (require(`${name}/package.json`) as { version: string }).version;
}

/** What draws the rasters: a raster hash means something only together with it. */
export const RASTER_RENDERER = `pdfjs ${versionOf('pdfjs-dist')} + canvas ${versionOf('@napi-rs/canvas')} + sharp ${sharp.versions.sharp ?? ''}`;
