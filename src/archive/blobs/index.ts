export { blobsIn, openBlobFolder } from './blob-folder.ts';
export type { Blobs } from './blobs.ts';
export { strangersIn } from './strangers.ts';
