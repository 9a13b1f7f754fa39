export { blobsIn, openBlobFolder } from './blob-folder.ts';
export type { Blobs } from './blobs.ts';
export { keepBytes } from './keep-bytes.ts';
export { strangersIn } from './strangers.ts';
