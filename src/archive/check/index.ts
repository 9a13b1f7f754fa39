/** The room's other door: for a command that holds two files against each other, and is to start without an archive. */
import type { CheckedSheets, SheetsRequest } from '../sheets/sheets-request.ts';
export type { CheckedRevision, CheckRequest } from '../check-request.ts';
export { checkRevision } from '../check-revision.ts';
export { pageHashes } from '../page-hashes.ts';

/**
 * As the room's own; what sheets need is loaded with the first that are checked.
 *
 * @throws {Refusal} malformed, unreadable, too-large, not-found, unavailable: as the room's own
 */
export async function checkSheets(request: SheetsRequest): Promise<CheckedSheets> {
  return (await import('../check-sheets.ts')).checkSheets(request);
}
