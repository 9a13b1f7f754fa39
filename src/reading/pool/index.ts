/** The room's other door: for a process that only hands pages to workers, and is to start without any of the libraries. */
export { fileIdentity } from '../pdf/file-bytes.ts';
export { RASTER_RENDERER } from '../raster/renderer.ts';
export { startPool, type Pool } from './pool.ts';
