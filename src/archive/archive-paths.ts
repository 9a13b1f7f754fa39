import { join } from 'node:path';

/** Where the things of an archive lie in its folder. */
export function archivePaths(folder: string): { readonly blobs: string; readonly catalogue: string } {
  return { blobs: join(folder, 'blobs'), catalogue: join(folder, 'catalogue.sqlite') };
}
