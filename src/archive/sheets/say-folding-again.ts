import { isDeepStrictEqual } from 'node:util';
import type { LogSubject, SaidFolding, Tolerances } from '../../model/index.ts';
import type { Actor } from '../actor.ts';
import type { FoldedBook, Part, SentFile } from '../catalogue/index.ts';
import { askForComparisons } from '../checking/ask-for-comparisons.ts';
import { dummyToCompareWith } from '../checking/dummy-to-compare-with.ts';
import { newestReport } from '../checking/file-findings.ts';
import { recorded, type Recording } from '../record/recorded.ts';
import { requireFile } from '../standing.ts';
import { foldingWords } from './folding-words.ts';
import { requireFolding } from './require-folding.ts';
import { requirePrinter } from './require-printer.ts';

/**
 * Says of sheets that are there how they fold, in place of what was said or found before: they are checked again by it.
 * What was signed on an earlier report stays on that one. Said as it is said already, it changes nothing.
 *
 * @param tolerances  in force, under which they are checked again
 * @throws {Refusal} not-found, not-allowed: as `requireFile` for sending files; the printer’s side alone
 * @throws {Refusal} malformed, not-found: as `requireFolding`
 */
export async function sayFoldingAgain(
  archive: Recording,
  actor: Actor,
  { fileId, folding, tolerances }: { fileId: string; folding: SaidFolding; tolerances: Tolerances },
  at: number,
): Promise<{ readonly part: Part; readonly file: SentFile }> {
  return recorded(archive, at, async (tables, log) => {
    const { title, part, file, standing } = await requireFile(tables, actor, fileId, 'send-files');
    requirePrinter(standing, 'say how sheets fold');
    const told = { partId: part.id, kind: file.kind, folding };
    await requireFolding(tables, told, file.replaces === null);
    if (isDeepStrictEqual(file.folding, folding)) return { part, file };
    const dummy = await dummyToCompareWith(tables, part.id);
    const report = dummy && (await newestReport(tables, { dummyId: dummy.id, fileId }));
    const before = report && (await tables.foldedBooks.ofFile(fileId, report));
    const said = { fileId, partId: part.id, folding, personId: actor.personId, atMs: at };
    const { number } = await tables.foldings.sayAgain(said);
    await log({
      kind: 'folding-said-again',
      titleId: title.id,
      by: actor,
      subjects: subjectsOf(file, folding, before),
      remark: `${file.name}: folded ${foldingWords(folding)}; before: ${foldingWords(file.folding)}`,
    });
    await askForComparisons(tables, part.id, { tolerances, at });
    return { part, file: { ...file, folding, foldingNumber: number } };
  });
}

/** The plans before and after by their hashes, where there is one. */
function subjectsOf(file: SentFile, folding: SaidFolding, before: FoldedBook | null): readonly LogSubject[] {
  const { id, sha256 } = file;
  return [
    { what: 'file', id, sha256 },
    ...('plan' in folding ? [{ what: 'given-plan', id, sha256: folding.plan }] : []),
    ...(before === null ? [] : [{ what: 'folding-plan-before', id, sha256: before.plan }]),
  ];
}
