/** The room's other door: for a command that holds two files against each other, and is to start without an archive. */
export type { CheckedRevision, CheckRequest } from '../check-request.ts';
export { checkRevision } from '../check-revision.ts';
export { pageHashes } from '../page-hashes.ts';
