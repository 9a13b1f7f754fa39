export { blobsIn, openBlobFolder } from './blob-folder.ts';
export type { Blobs, ByteRange, KeptBlob, ListedBlob, PutTerms } from './blobs.ts';
export { strangersIn } from './strangers.ts';
