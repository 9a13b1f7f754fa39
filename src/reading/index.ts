export { openBook, type Book } from './pdf/book.ts';
export { describePage } from './pdf/describe-page.ts';
export { drawPage, getReadyToDraw, rasterHash, type DrawnPage, type PageRequest } from './raster/draw-page.ts';
export { isBlank, pageSignature } from './raster/signature.ts';
export { readPage } from './read-page.ts';
export { serveJobs } from './pool/serve-jobs.ts';
