import type { KeptReport, KeptStatement, LogEntry, Part, SentFile, Tables } from '../../archive/index.ts';
import { parseLogEntry, type LogEntry as Recorded } from '../../model/index.ts';
import type { PackOrder } from './pack-order.ts';

/** An entry of the log as it is kept, and what it says. */
export interface ReadEntry {
  readonly kept: LogEntry;
  readonly says: Recorded;
}

/** What of a title belongs into a pack. */
export interface Chosen {
  readonly parts: readonly Part[];
  readonly files: readonly SentFile[];
  readonly reports: readonly KeptReport[];
  readonly statements: readonly KeptStatement[];
  readonly entries: readonly ReadEntry[];
}

const AT_ONCE = 1000;

/**
 * What an order asks for, as far as the log had recorded it at `size` entries. Of other titles nothing is read; of other
 * parts of the title their entries are left out, too.
 */
export async function chooseContents(tables: Tables, order: PackOrder, size: number): Promise<Chosen> {
  const { titleId, scope } = order;
  const all = await tables.titles.parts(titleId);
  const parts = all.filter(({ id }) => scope.kind === 'title' || scope.partId === id);
  const entries = await entriesOf(tables, titleId, size);
  const recorded = new Set(entries.flatMap(({ says }) => says.subjects.map(({ id }) => id)));
  const files: SentFile[] = [];
  const reports: KeptReport[] = [];
  for (const part of parts) {
    for (const file of await tables.files.ofPart(part.id)) {
      if (!recorded.has(file.id)) continue;
      files.push(file);
      reports.push(...(await tables.reports.onFile(file.id)).filter(({ id }) => recorded.has(id)));
    }
  }
  const said = (await tables.statements.ofTitle(titleId)).filter(({ logIndex }) => logIndex < size);
  const ofParts = said.filter(({ partId }) => partId === null || parts.some(({ id }) => id === partId));
  const statements: KeptStatement[] = [];
  for (const one of ofParts) if (await concerns(tables, one, order)) statements.push(one);
  const chosen = { parts, files, reports, statements };
  const about = await entriesAbout(tables, { ...chosen, entries, said, all });
  return { ...chosen, entries: await withoutOtherPages(tables, about, order) };
}

async function entriesOf(tables: Tables, titleId: string, size: number): Promise<readonly ReadEntry[]> {
  const entries: ReadEntry[] = [];
  for (let from = 0; ;) {
    const page = await tables.log.ofTitle(titleId, { from, most: AT_ONCE });
    for (const kept of page) if (kept.index < size) entries.push({ kept, says: parseLogEntry(kept.bytes) });
    const last = page.at(-1);
    if (page.length < AT_ONCE || last === undefined) return entries;
    from = last.index + 1;
  }
}

/** In the pack of one page, a ruling stands only where it rules on that page. */
async function concerns(tables: Tables, statement: KeptStatement, { scope }: PackOrder): Promise<boolean> {
  if (scope.kind !== 'page' || statement.kind !== 'ruling') return true;
  for (const { kind, subject } of await tables.statements.subjectsOf(statement.id)) {
    if (kind !== 'finding') continue;
    if ((await tables.findings.get(subject))?.dummyPage === scope.dummyPage) return true;
  }
  return false;
}

/** In the pack of one page, what was said stands only where it was said of that page. */
async function withoutOtherPages(
  tables: Tables,
  entries: readonly ReadEntry[],
  { scope }: PackOrder,
): Promise<readonly ReadEntry[]> {
  if (scope.kind !== 'page') return entries;
  const kept: ReadEntry[] = [];
  for (const entry of entries) {
    const { kind, subjects } = entry.says;
    const about = kind === 'finding-remark' ? subjects.find(({ what }) => what === 'finding') : undefined;
    const finding = about === undefined ? null : await tables.findings.get(about.id);
    if (finding === null || finding.dummyPage === scope.dummyPage) kept.push(entry);
  }
  return kept;
}

interface Sorted extends Chosen {
  readonly said: readonly KeptStatement[];
  readonly all: readonly Part[];
}

/** The entries without those of parts, files, reports and statements that are left out. */
async function entriesAbout(tables: Tables, { parts, statements, entries, said, all }: Sorted): Promise<ReadEntry[]> {
  const left = all.filter((part) => !parts.includes(part));
  const without = new Set(left.map(({ id }) => id));
  for (const { id } of left) {
    for (const file of await tables.files.ofPart(id)) {
      without.add(file.id);
      for (const report of await tables.reports.onFile(file.id)) without.add(report.id);
    }
  }
  const unsaid = new Set(said.filter((one) => !statements.includes(one)).map(({ logIndex }) => logIndex));
  return entries.filter(
    ({ kept, says }) => !unsaid.has(kept.index) && !says.subjects.some(({ id }) => without.has(id)),
  );
}
