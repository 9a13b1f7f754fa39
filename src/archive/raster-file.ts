import { readFile, writeFile } from 'node:fs/promises';
import type { PageRaster } from '../model/index.ts';

const HEADER_BYTES = 16;

/** Leaves a raster on disk for another worker: width, height (uint32) and ppi (float64), then the pixels. */
export async function writeRaster(path: string, { width, height, ppi, rgb }: PageRaster): Promise<void> {
  const header = Buffer.alloc(HEADER_BYTES);
  header.writeUInt32LE(width, 0);
  header.writeUInt32LE(height, 4);
  header.writeDoubleLE(ppi, 8);
  await writeFile(path, [header, rgb]);
}

/** Reads what `writeRaster` left, or null where there is nothing or something else. */
export async function readRaster(path: string): Promise<PageRaster | null> {
  let bytes: Buffer;
  try {
    bytes = await readFile(path);
  } catch {
    return null;
  }
  if (bytes.length < HEADER_BYTES) return null;
  const width = bytes.readUInt32LE(0);
  const height = bytes.readUInt32LE(4);
  if (bytes.length !== HEADER_BYTES + width * height * 3) return null;
  return { width, height, ppi: bytes.readDoubleLE(8), rgb: bytes.subarray(HEADER_BYTES) };
}
