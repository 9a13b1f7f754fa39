import { askForComparisons } from '../archive/index.ts';
import type { KeptStatement, SentFile } from '../archive/index.ts';
import type { ServiceTools } from './tools.ts';

/** What follows from a statement: comparisons with a dummy that it brought into force, and the news of it. */
export async function followStatement(kept: KeptStatement, tools: ServiceTools): Promise<void> {
  const { archive, activity, tolerances, now, nudge } = tools;
  const { partId, titleId } = kept;
  if (partId !== null) {
    await archive.catalogue.together((tables) => askForComparisons(tables, partId, { tolerances, at: now() }));
    nudge();
  }
  const data = { statementId: kept.id, kind: kept.kind };
  if (titleId !== null) activity.tell({ what: 'stated', titleId, partId, fileId: null, data });
}

/** What follows from a file: its job is done at once, and the news of it. */
export async function followFile(file: SentFile, { archive, activity, nudge }: ServiceTools): Promise<void> {
  nudge();
  const part = await archive.catalogue.titles.part(file.partId);
  if (part === null) return;
  const { kind, revisionNumber } = file;
  const about = { titleId: part.titleId, partId: part.id, fileId: file.id };
  activity.tell({ what: 'received', ...about, data: { kind, revisionNumber } });
}
