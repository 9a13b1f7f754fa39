import { createHash } from 'node:crypto';
import { formatCanonicalJson } from '../../model/index.ts';
import type { Finding, Report } from '../../model/index.ts';
import type { SentFile, Tables } from '../catalogue/index.ts';
import type { Archive } from '../open-archive.ts';
import { bookPages } from '../files/book-pages.ts';
import type { BookPage } from '../files/book-pages.ts';
import { readReport } from '../read-report.ts';
import type { Appearance, KnownFinding, ShownPage } from './same-findings.ts';

/** The findings that the reports under a dummy have so far, and how many reports that are. */
export interface KnownSoFar {
  readonly reports: number;
  readonly findings: readonly KnownFinding[];
}

/** Gathers every finding of the reports under a dummy, each as it first appeared. */
export async function knownFindings(
  { blobs, catalogue }: Pick<Archive, 'blobs' | 'catalogue'>,
  dummyId: string,
): Promise<KnownSoFar> {
  const reports = await catalogue.reports.onDummy(dummyId);
  const known = new Map<string, KnownFinding & { readonly pages: Set<string> }>();
  for (const report of reports) {
    const { id, fileId, sha256 } = report;
    const file = await catalogue.files.get(fileId);
    const pages = file && (await bookPages(catalogue, file, report));
    if (pages === null) continue;
    const appearances = new Map(
      appearancesIn(await readReport(blobs, sha256), pages).map((one) => [one.finding.id, one]),
    );
    for (const { finding, mark } of await catalogue.findings.inReport(id)) {
      const appearance = appearances.get(mark);
      if (appearance === undefined) continue;
      const entry = known.get(finding.id) ?? {
        id: finding.id,
        identity: finding.identity,
        first: appearance,
        pages: new Set<string>(),
      };
      if (appearance.page !== null) entry.pages.add(appearance.page.key);
      known.set(finding.id, entry);
    }
  }
  return { reports: reports.length, findings: [...known.values()] };
}

/** The findings of a report with the pages on which they stand. */
export function appearancesIn(report: Report, pages: readonly BookPage[]): readonly Appearance[] {
  return report.findings.map((finding) => {
    const page = finding.revisionPage === null ? undefined : pages[finding.revisionPage - 1];
    return { finding, page: page === undefined ? null : shown(page) };
  });
}

function shown({ sha256, pageNumber, contentHash }: BookPage): ShownPage {
  return { key: contentHash ?? `${sha256}/${pageNumber}`, sha256, pageNumber };
}

/**
 * SHA-256 of what makes a finding this one when it is seen for the first time: kind, place and figures, and the page on
 * which it stands.
 *
 * @param ordinal  tells apart what is the same in all of this, from 0
 */
function identityOf(dummy: SentFile, { finding, page }: Appearance, ordinal: number): string {
  const { kind, dummyPage, revisionPage, box, revisionBox, measured }: Finding = finding;
  const shownThere = page?.key ?? null;
  const identity = {
    dummy: dummy.id,
    kind,
    dummyPage,
    revisionPage,
    box,
    revisionBox,
    measured,
    shownThere,
    ordinal,
  };
  return createHash('sha256').update(formatCanonicalJson(identity)).digest('hex');
}

/** What of a report is noted in the catalogue: each finding under the identity of a known one, or under one of its own. */
export async function noteFindings(
  tables: Pick<Tables, 'findings'>,
  given: {
    readonly partId: string;
    readonly reportId: string;
    readonly dummy: SentFile;
    readonly appearances: readonly Appearance[];
    readonly same: ReadonlyMap<string, KnownFinding>;
    readonly at: number;
  },
): Promise<void> {
  const { partId, reportId, dummy, appearances, same, at } = given;
  const used = new Set([...same.values()].map(({ identity }) => identity));
  for (const appearance of appearances) {
    const { id: mark, kind, dummyPage, weight } = appearance.finding;
    let identity = same.get(mark)?.identity;
    for (let ordinal = 0; identity === undefined; ordinal += 1) {
      const own = identityOf(dummy, appearance, ordinal);
      if (!used.has(own)) used.add((identity = own));
    }
    await tables.findings.note({ partId, reportId, identity, kind, dummyPage, mark, weight, at });
  }
}
