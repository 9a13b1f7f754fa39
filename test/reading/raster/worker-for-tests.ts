import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import { openBook, rasterHash, readPage, serveJobs } from '../../../src/reading/index.ts';

// Draws page `pageNumber` of the file at `path` and gives the raster's hash.
serveJobs(async (job) => {
  const { path, pageNumber } = job as { path: string; pageNumber: number };
  const book = await openBook(path, DEFAULT_LIMITS);
  const { facts, raster } = await readPage({ book, pageNumber, ppi: 100, limits: DEFAULT_LIMITS });
  return [facts.rasterHash, rasterHash(raster)];
});
