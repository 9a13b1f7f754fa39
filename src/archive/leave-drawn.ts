import { isBlank, pageSignature, rasterHash } from '../reading/index.ts';
import type { DrawnPage } from '../reading/index.ts';
import type { DrawnPart } from './page-jobs.ts';
import { writeRaster } from './raster-file.ts';

/** What is seen on a page that was drawn; its raster is left on disk for other workers, where it is wanted there. */
export async function leaveDrawn(drawn: DrawnPage, rasterPath: string | null): Promise<DrawnPart> {
  if (rasterPath !== null) await writeRaster(rasterPath, drawn.raster);
  return seenOn(drawn);
}

/** What is seen on a page that was drawn. */
export function seenOn({ raster, words }: DrawnPage): DrawnPart {
  return { words, signature: pageSignature(raster), rasterHash: rasterHash(raster), blank: isBlank(raster) };
}
