import { Refusal } from '../../model/index.ts';
import type { Actor } from '../actor.ts';
import type { ConfirmedFolding } from '../catalogue/index.ts';
import { dummyToCompareWith } from '../checking/dummy-to-compare-with.ts';
import { newestReport } from '../checking/file-findings.ts';
import type { Archive } from '../open-archive.ts';
import { readReport } from '../read-report.ts';
import { recorded } from '../record/recorded.ts';
import { requireFile } from '../standing.ts';
import { requirePrinter } from './require-printer.ts';

/**
 * Confirms a plan that was found from sheets: somebody of the printer’s side held it against their own. It is of the
 * newest report alone; where that is made anew, its plan is confirmed anew.
 *
 * @param plan  SHA-256 of the plan that was looked at
 * @throws {Refusal} not-found, not-allowed: as `requireFile` for sending files; the printer’s side alone
 * @throws {Refusal} not-found: the file was not taken apart
 * @throws {Refusal} out-of-step: its plan was not found but said, is to be checked again, or is another by now
 */
export async function confirmFolding(
  archive: Pick<Archive, 'blobs' | 'catalogue' | 'identity'>,
  actor: Actor,
  { fileId, plan }: { readonly fileId: string; readonly plan: string },
  at: number,
): Promise<ConfirmedFolding> {
  return recorded(archive, at, async (tables, log) => {
    const { title, part, file, standing } = await requireFile(tables, actor, fileId, 'send-files');
    requirePrinter(standing, 'confirm how sheets fold');
    const dummy = await dummyToCompareWith(tables, part.id);
    const report = dummy && (await newestReport(tables, { dummyId: dummy.id, fileId }));
    const folded = report && (await tables.foldedBooks.ofFile(fileId, report));
    if (report === null || folded === null) throw new Refusal('not-found', { what: 'sheets' });
    const { sheets } = await readReport(archive.blobs, report.sha256);
    if (sheets?.plan !== 'found' || report.folding !== file.foldingNumber) {
      throw new Refusal('out-of-step', { what: 'the folding plan', named: 'found', current: 'said' });
    }
    if (folded.plan !== plan) {
      throw new Refusal('out-of-step', { what: 'the folding plan', named: plan, current: folded.plan });
    }
    const before = await tables.foldings.confirmedIn(report.id);
    if (before !== null) return before;
    await log({
      kind: 'folding-confirmed',
      titleId: title.id,
      by: actor,
      subjects: [
        { what: 'file', id: fileId, sha256: file.sha256 },
        { what: 'report', id: report.id, sha256: report.sha256 },
        { what: 'folding-plan', id: fileId, sha256: plan },
      ],
      remark: file.name,
    });
    return tables.foldings.confirm({ reportId: report.id, personId: actor.personId, atMs: at });
  });
}
