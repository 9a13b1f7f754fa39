export type { CheckedRevision, CheckRequest, Progress } from './check-request.ts';
export { checkRevision } from './check-revision.ts';
export { pageHashes, type HashedPage } from './page-hashes.ts';
export { startPageWorkers } from './page-workers.ts';
