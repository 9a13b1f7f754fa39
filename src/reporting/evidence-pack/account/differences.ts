import type { PackFacts, PackReport } from '../../../evidence/index.ts';
import type { AccountSource, Block, Section } from './section.ts';
import { capital, fileWords, momentWords, personWords, sideOf, theFile } from './names.ts';
import { ACCOUNT_WORDS, DECISION_WORDS } from './statement-account.ts';
import { placeWords } from '../../words/place-words.ts';

/** One difference through all files: where it came in, where it is, and what each side said of it. */
export interface Difference {
  readonly id: string;
  readonly partId: string;
  readonly weight: PackReport['findings'][number]['weight'];
  readonly says: string;
  readonly place: string;
  /** Ids of the files in which it is, in order of arrival. */
  readonly files: readonly string[];
  readonly publisher: string | null;
  readonly printer: string | null;
  /** Both say that it is agreed, and on the same account. */
  readonly isSettled: boolean;
}

/** Every difference of the pack, in the order in which they were first found. */
export function differencesOf(source: AccountSource): readonly Difference[] {
  const { facts } = source;
  const found = new Map<string, { report: PackReport; finding: PackReport['findings'][number]; files: string[] }>();
  for (const report of facts.reports) {
    for (const finding of report.findings) {
      const known = found.get(finding.id);
      if (known === undefined) found.set(finding.id, { report, finding, files: [report.fileId] });
      else if (!known.files.includes(report.fileId)) known.files.push(report.fileId);
    }
  }
  const order = facts.files.map(({ id }) => id);
  return [...found].map(([id, { report, finding, files }]) => {
    const [publisher, printer] = (['publisher', 'printer'] as const).map((side) => rulingBy(source, side, id));
    return {
      id,
      partId: report.partId,
      weight: finding.weight,
      says: finding.says,
      place: placeWords(finding),
      files: files.sort((one, other) => order.indexOf(one) - order.indexOf(other)),
      publisher: publisher?.words ?? null,
      printer: printer?.words ?? null,
      isSettled: publisher?.decision === 'agreed' && publisher.words === printer?.words,
    };
  });
}

/** The last word of a side on a finding. */
function rulingBy(
  { facts, statements }: AccountSource,
  side: 'publisher' | 'printer',
  findingId: string,
): { readonly words: string; readonly decision: string } | undefined {
  return facts.statements
    .flatMap(({ entry, personId }) => {
      const statement = statements.get(entry);
      if (statement?.kind !== 'ruling' || sideOf(facts, personId) !== side) return [];
      const { subject } = statement;
      const report = facts.reports.find(({ sha256 }) => sha256 === subject.report);
      const marks = new Set(subject.findings.map(({ id }) => id));
      const isAbout =
        marks.has(findingId) || report?.findings.some(({ id, mark }) => id === findingId && marks.has(mark));
      if (isAbout !== true) return [];
      return [
        {
          words: `${DECISION_WORDS[subject.decision]}, ${ACCOUNT_WORDS[subject.account]}`,
          decision: subject.decision,
        },
      ];
    })
    .at(-1);
}

/** For each part, its differences: what, who brought it in, where it still is, and what both sides say. */
export function differenceSections(source: AccountSource): readonly Section[] {
  const { facts } = source;
  const all = differencesOf(source).filter(({ weight }) => weight !== 'note');
  return facts.parts.flatMap(({ id, name }) => {
    const own = all.filter(({ partId }) => partId === id);
    if (own.length === 0) return [];
    const columns = [
      { title: 'What', share: 0.4 },
      { title: 'First in', share: 0.28 },
      { title: 'Publisher says', share: 0.16 },
      { title: 'Printer says', share: 0.16 },
    ];
    const rows = own.map((one) => [
      `${capital(one.place)}. ${one.says}`,
      firstWords(facts, one),
      capital(one.publisher ?? 'nothing yet'),
      capital(one.printer ?? 'nothing yet'),
    ]);
    const heading = facts.parts.length === 1 ? 'Differences from the dummy' : `Differences in ${name}`;
    const shown = facts.scope.kind === 'page' ? own.flatMap((one) => exhibitBlocks(facts, one)) : [];
    return [{ heading, blocks: [{ kind: 'table' as const, columns, rows }, ...shown] }];
  });
}

function firstWords(facts: PackFacts, { files }: Difference): string {
  const named = files.flatMap((id) => facts.files.filter((file) => file.id === id));
  const [first, ...later] = named;
  if (first === undefined) return 'a file that is not in this pack';
  const compared = facts.files.filter(
    ({ id, partId, kind }) =>
      partId === first.partId && kind !== 'dummy' && facts.reports.some((report) => report.fileId === id),
  );
  const gone = compared.filter(
    ({ id }) =>
      compared.findIndex((one) => one.id === first.id) < compared.findIndex((one) => one.id === id) &&
      !files.includes(id),
  );
  const still = later.length === 0 ? '' : ` Also in ${later.map(shortName).join(', ')}.`;
  const left = gone.length === 0 ? '' : ` Not in ${gone.map(shortName).join(', ')}.`;
  const sent = `sent by ${personWords(facts, first.senderId)} on ${momentWords(first.at)}`;
  return `${capital(fileWords(first))}, ${sent}.${still}${left}`;
}

function shortName(file: PackFacts['files'][number]): string {
  return file.kind === 'revision' ? `revision ${file.revisionNumber}` : fileWords(file);
}

const SIDE_WORDS = { dummy: 'As in the dummy', revision: 'As in', difference: 'What differs' } as const;

/** What shows a difference, from the last report that has pictures of it. */
function exhibitBlocks(facts: PackFacts, { id }: Difference): readonly Block[] {
  const mark = (report: PackReport): string | undefined => report.findings.find((one) => one.id === id)?.mark;
  const report = facts.reports.findLast((one) => one.pictures.some((picture) => picture.mark === mark(one)));
  const file = facts.files.find((one) => one.id === report?.fileId);
  if (report === undefined || file === undefined) return [];
  const pictures = (['dummy', 'revision', 'difference'] as const).flatMap((side) =>
    report.pictures
      .filter((one) => one.mark === mark(report) && one.side === side)
      .map(({ member }) => {
        const caption = side === 'revision' ? `${SIDE_WORDS[side]} ${theFile(file)}` : SIDE_WORDS[side];
        return { member, caption };
      }),
  );
  return [{ kind: 'pictures', pictures }];
}
