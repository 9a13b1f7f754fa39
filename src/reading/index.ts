export { openBook, type Book } from './pdf/book.ts';
export { fileIdentity } from './pdf/file-bytes.ts';
export { describePage } from './pdf/describe-page.ts';
export { drawPage, rasterHash, type DrawnPage, type PageRequest } from './raster/draw-page.ts';
export { RASTER_RENDERER } from './raster/renderer.ts';
export { isBlank, pageSignature } from './raster/signature.ts';
export { readPage } from './read-page.ts';
export { startPool, type Pool, type PoolOptions } from './pool/pool.ts';
export { serveJobs } from './pool/serve-jobs.ts';
