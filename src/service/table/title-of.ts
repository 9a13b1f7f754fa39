import type { Tables } from '../../archive/index.ts';

/** Things that a path may name and that belong to a title. */
export type ThingOfTitle = 'title' | 'part' | 'file' | 'report' | 'finding';

/** The title that a thing belongs to; null where there is no such thing. */
export const TITLE_OF: Readonly<Record<ThingOfTitle, (tables: Tables, id: string) => Promise<string | null>>> = {
  title: async (_tables, id) => id,
  part: (tables, id) => titleOfPart(tables, id),
  file: async (tables, id) => titleOfPart(tables, (await tables.files.get(id))?.partId),
  report: async (tables, id) => titleOfPart(tables, (await tables.reports.get(id))?.partId),
  finding: async (tables, id) => titleOfPart(tables, (await tables.findings.get(id))?.partId),
};

async function titleOfPart(tables: Tables, partId: string | undefined): Promise<string | null> {
  return partId === undefined ? null : ((await tables.titles.part(partId))?.titleId ?? null);
}
