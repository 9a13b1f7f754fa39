import type { LogEntry } from '../../../model/index.ts';
import { formatBytes, formatCount } from '../../words/figures.ts';
import type { PackFacts } from '../../../evidence/index.ts';
import type { AccountSource, Section } from './section.ts';
import { momentWords, partyName, personWords, rangeWords, theFile } from './names.ts';
import { tellStatement } from './statement-account.ts';

/** Of TIFF plates every one is a page. */
const PLATES = /\.(zip|tiff?)$/i;

/** Everything that the log has of the title, in its order. */
export function eventSection(source: AccountSource): Section {
  const events = [...source.entries].map(([index, entry]) => ({
    at: momentWords(entry.at),
    says: eventWords(source, index, entry),
    entry: index,
  }));
  const lead =
    'Every line is an entry of the archive’s log, in the order in which they were written; the number beside it is its ' +
    'place in the log. Numbers that are left out belong to other business of the archive. Times are the ' +
    'archive’s own.';
  return {
    heading: 'What happened',
    blocks: [
      { kind: 'text', text: lead },
      { kind: 'events', events },
    ],
  };
}

function eventWords({ facts, statements }: AccountSource, index: number, entry: LogEntry): string {
  const statement = statements.get(index);
  const who = personWords(facts, entry.by.person);
  if (statement !== undefined) return `${who} ${tellStatement(statement, facts)}.`;
  return `${who} ${done(facts, index, entry)}.`;
}

function done(facts: PackFacts, index: number, { kind, by, subjects, remark }: LogEntry): string {
  const party = subjects.find(({ what }) => what === 'party');
  switch (kind) {
    case 'title-opened':
      return `opened the title “${remark}”`;
    case 'title-renamed':
      return `renamed the title “${remark}”`;
    case 'part-opened':
      return `opened the part “${remark}”`;
    case 'sight-given':
      return `gave sight of the title to ${partyName(facts, party?.id ?? '')}`;
    case 'sight-taken':
      return `took sight of the title from ${partyName(facts, party?.id ?? '')}`;
    case 'finding-remark':
      return remarkWords(facts, subjects.find(({ what }) => what === 'finding')?.id, remark);
    case 'folding-said-again':
      return `said again how sheets fold: ${remark}`;
    case 'folding-confirmed':
      return `confirmed how the sheets fold that were found to do so: ${remark}`;
    case 'export':
      return exportWords(facts, subjects, remark);
    case 'failed-verification':
      return by.party === 'archive'
        ? `found damage: ${remark}`
        : `was refused, because something did not verify: ${remark}`;
    case 'upload':
      return uploadWords(facts, index, remark);
    case 'report':
      return reportWords(facts, index, remark);
    default:
      return `did what the log calls ${kind}${remark === '' ? '' : `: ${remark}`}`;
  }
}

/** A pack is of a title, a copy is of a file; what else goes out is named by its remark. */
function exportWords(facts: PackFacts, subjects: LogEntry['subjects'], remark: string): string {
  if (subjects.some(({ what }) => what === 'title')) return `took an evidence pack (${remark})`;
  const of = subjects.find(({ what }) => what === 'file');
  if (of === undefined) return `took the ${remark}`;
  const file = facts.files.find(({ id }) => id === of.id);
  return `took a ${remark}${file === undefined ? '' : ` of ${theFile(file)}`}`;
}

function remarkWords(facts: PackFacts, findingId: string | undefined, remark: string): string {
  const finding = facts.reports.flatMap(({ findings }) => findings).find(({ id }) => id === findingId);
  const about = finding === undefined ? 'a difference' : `the difference “${finding.says}”`;
  return `said of ${about}: “${remark.replaceAll('\n', ' ')}”`;
}

function uploadWords(facts: PackFacts, index: number, remark: string): string {
  const file = facts.files.find(({ entry }) => entry === index);
  if (file === undefined) return `sent a file: ${remark}`;
  const pages = file.pages === null ? '' : `${formatCount(file.pages, PLATES.test(file.name) ? 'plate' : 'page')}, `;
  const below = facts.files.find(({ id }) => id === file.replaces?.fileId);
  const laid = file.replaces === null ? '' : `, pages ${rangeWords(file.replaces.pages)} supplied again`;
  const over = below === undefined ? '' : ` over ${theFile(below)}`;
  const said = file.remark === '' ? '' : `, with the remark “${file.remark}”`;
  return `sent ${theFile(file)} (${pages}${formatBytes(file.bytes)})${laid}${over}${said}`;
}

function reportWords(facts: PackFacts, index: number, remark: string): string {
  const report = facts.reports.find(({ entry }) => entry === index);
  if (report === undefined) return `made a report: ${remark}`;
  const fileOf = (id: string): string => {
    const file = facts.files.find((one) => one.id === id);
    return file === undefined ? 'a file' : `${theFile(file)}`;
  };
  const compared = `compared ${fileOf(report.fileId)} with ${fileOf(report.dummyId)}`;
  if (report.verdict === 'match') return `${compared} and found that it matches`;
  const heavy = report.findings.filter(({ weight }) => weight !== 'note').length;
  return `${compared} and found ${formatCount(heavy, 'difference')} to decide on${facts.scope.kind === 'page' ? ' on this page' : ''}`;
}
