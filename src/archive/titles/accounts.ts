import type { Account, Decision } from '../../model/index.ts';
import type { Part, RulingMade, SentFile, Tables, Title } from '../catalogue/index.ts';
import { saidAs } from '../statements/kept-statement.ts';
import { settledOf, statesOf } from '../statements/rulings.ts';
import { partName } from './titles.ts';

/** A finding that both sides have put on somebody's account. */
export interface AccountLine {
  readonly partId: string;
  readonly partName: string;
  readonly findingId: string;
  readonly kind: string;
  /** As the signers read it. */
  readonly says: string;
  /** Of the dummy; null for a page that it does not have. */
  readonly page: number | null;
  /** The first file in which it appeared, and by which party it was sent. */
  readonly fileId: string;
  readonly fileName: string;
  readonly sender: string;
  readonly decision: Decision;
  readonly account: Account;
  /** The publisher's and the printer's. */
  readonly statements: readonly string[];
}

/** How many findings are on each account. */
export type AccountCounts = Readonly<Record<Account, number>>;

/** The accounts of a title: every settled finding, and how many there are, by page and by file. */
export interface TitleAccounts {
  readonly lines: readonly AccountLine[];
  readonly total: AccountCounts;
  readonly byPage: readonly {
    readonly partName: string;
    readonly page: number | null;
    readonly counts: AccountCounts;
  }[];
  readonly byFile: readonly {
    readonly partName: string;
    readonly fileId: string;
    readonly fileName: string;
    readonly counts: AccountCounts;
  }[];
}

/**
 * What goes on whose account in a title, for the invoice: findings on which both sides have said the same, whatever
 * dummy they were held against and whether they were agreed or put right. Parts in their order, pages ascending.
 */
export async function titleAccounts(tables: Tables, title: Title): Promise<TitleAccounts> {
  const lines: AccountLine[] = [];
  for (const part of await tables.titles.parts(title.id)) lines.push(...(await linesOf(tables, title, part)));
  const files = grouped(lines, ({ partId, fileId }) => `${partId} ${fileId}`);
  const pages = grouped(lines, ({ partId, page }) => `${partId} ${page}`);
  return {
    lines,
    total: countsOf(lines),
    byPage: pages.map((of) => ({ partName: of[0].partName, page: of[0].page, counts: countsOf(of) })),
    byFile: files.map((of) => {
      const { partName: name, fileId, fileName } = of[0];
      return { partName: name, fileId, fileName, counts: countsOf(of) };
    }),
  };
}

async function linesOf(tables: Tables, title: Title, part: Part): Promise<readonly AccountLine[]> {
  const made = await tables.statements.rulingsOfPart(part.id);
  const lines: AccountLine[] = [];
  for (const rulings of grouped(made, ({ dummyId }) => dummyId)) {
    for (const [findingId, state] of statesOf(title, rulings)) {
      const settled = settledOf(state);
      const ruling = rulings.findLast((one) => one.findingId === findingId);
      const finding = await tables.findings.get(findingId);
      if (settled === null || ruling === undefined || finding === null) continue;
      const file = await firstFileWith(tables, ruling);
      const sender = file && (await tables.people.get(file.senderId));
      lines.push({
        partId: part.id,
        partName: partName(part),
        findingId,
        kind: finding.kind,
        says: await sentenceOf(tables, ruling),
        page: finding.dummyPage,
        fileId: file?.id ?? ruling.fileId,
        fileName: file?.name ?? '',
        sender: sender?.partyId === title.publisherId ? 'publisher' : 'printer',
        ...settled,
      });
    }
  }
  return lines.sort((one, other) => (one.page ?? Infinity) - (other.page ?? Infinity) || 0);
}

async function firstFileWith(tables: Tables, ruling: RulingMade): Promise<SentFile | null> {
  const [first] = await tables.findings.filesWith(ruling.findingId);
  return tables.files.get(first ?? ruling.fileId);
}

async function sentenceOf(tables: Tables, { statementId, reportId, findingId }: RulingMade): Promise<string> {
  const kept = await tables.statements.get(statementId);
  const reported = await tables.findings.inReport(reportId);
  const mark = reported.find(({ finding }) => finding.id === findingId)?.mark;
  return (kept && saidAs(kept, 'ruling')?.subject.findings.find(({ id }) => id === mark)?.says) ?? '';
}

function countsOf(lines: readonly AccountLine[]): AccountCounts {
  const of = (account: Account): number => lines.filter((line) => line.account === account).length;
  return {
    'authors-alteration': of('authors-alteration'),
    'printers-error': of('printers-error'),
    shared: of('shared'),
    'not-settled': of('not-settled'),
  };
}

/** In the order in which each key comes first; no group is empty. */
function grouped<T>(all: readonly T[], keyOf: (one: T) => string): readonly (readonly [T, ...T[]])[] {
  const groups = new Map<string, [T, ...T[]]>();
  for (const one of all) {
    const group = groups.get(keyOf(one));
    if (group === undefined) groups.set(keyOf(one), [one]);
    else group.push(one);
  }
  return [...groups.values()];
}
