import type { StatementOf, StatementKind } from '../../../model/index.ts';
import type { PackFile } from '../../../evidence/index.ts';
import type { AccountSource, Section } from './section.ts';
import { differencesOf } from './differences.ts';
import { capital, fileWords, momentWords, personWords, sideOf, theFile } from './names.ts';

/** Who the parties are, and how things stand at the end: the dummy in force, what is open, what was released. */
export function standingSection(source: AccountSource): Section {
  const { facts } = source;
  const named = (standing: 'publisher' | 'printer'): string =>
    facts.parties.find((party) => party.standing === standing)?.name ?? '';
  const sight = facts.parties.filter(({ standing }) => standing === 'sight').map(({ name }) => name);
  const rows: (readonly [string, string])[] = [
    ['Publisher', named('publisher')],
    ['Printer', named('printer')],
    ...(sight.length === 0 ? [] : [['Given sight', sight.join('; ')] as const]),
    ...(facts.title.formerNames.length === 0 ? [] : [['Formerly called', facts.title.formerNames.join('; ')] as const]),
  ];
  for (const { id, name } of facts.parts) {
    const of = facts.parts.length === 1 ? '' : `${name}: `;
    rows.push(
      [capital(`${of}dummy`), dummyWords(source, id)],
      [capital(`${of}differences`), openWords(source, id)],
      [capital(`${of}plates`), releaseWords(source, id)],
    );
  }
  rows.push(['Told on', `${momentWords(facts.madeAt)}, from the archive’s log ${facts.archive.origin}.`]);
  return { heading: 'How it stands', blocks: [{ kind: 'terms', rows }] };
}

interface Word<K extends StatementKind> {
  readonly statement: StatementOf<K>;
  readonly personId: string;
  readonly at: string;
}

function wordsOf<K extends StatementKind>({ facts, statements }: AccountSource, kind: K): readonly Word<K>[] {
  return facts.statements.flatMap(({ entry, personId }) => {
    const statement = statements.get(entry);
    if (statement?.kind !== kind) return [];
    return [{ statement: statement as StatementOf<K>, personId, at: statement.at }];
  });
}

/** Who of each side signed a file in this way; in force only where both are there. */
function bySides<K extends StatementKind>(
  { facts }: AccountSource,
  words: readonly Word<K>[],
): { readonly inForce: boolean; readonly says: string } {
  const sides = (['publisher', 'printer'] as const).flatMap((side) => {
    const word = words.find(({ personId }) => sideOf(facts, personId) === side);
    return word === undefined ? [] : [`${personWords(facts, word.personId)} on ${momentWords(word.at)}`];
  });
  return { inForce: sides.length === 2, says: sides.join(' and by ') };
}

function dummyWords(source: AccountSource, partId: string): string {
  const { facts } = source;
  const dummies = facts.files.filter((file) => file.partId === partId && file.kind === 'dummy');
  let half: string | null = null;
  for (const dummy of dummies.toReversed()) {
    const replaced = bySides(
      source,
      wordsOf(source, 'replacement').filter(({ statement }) => statement.subject.dummy.sha256 === dummy.sha256),
    );
    const signed = bySides(
      source,
      wordsOf(source, 'sign-off').filter(({ statement }) => statement.subject.dummy.sha256 === dummy.sha256),
    );
    const how = replaced.inForce ? replaced : signed;
    if (how.inForce) return `In force is ${theFile(dummy)}, signed by ${how.says}. SHA-256 ${dummy.sha256}.`;
    half ??= signed.says === '' ? null : `The ${fileWords(dummy)} is signed by ${signed.says} alone.`;
  }
  return half === null ? 'No dummy is in force.' : `No dummy is in force. ${half}`;
}

function openWords(source: AccountSource, partId: string): string {
  const latest = source.facts.reports.filter((report) => report.partId === partId).at(-1);
  const file = source.facts.files.find(({ id }) => id === latest?.fileId);
  if (latest === undefined || file === undefined) return 'Nothing was compared with it.';
  const found = differencesOf(source).filter(({ files, weight }) => weight !== 'note' && files.includes(file.id));
  const open = found.filter(({ isSettled }) => !isSettled).length;
  const where = `In ${theFile(file)}, the last file compared,`;
  const here = source.facts.scope.kind === 'page' ? ' on this page' : '';
  if (found.length === 0) return `${where} nothing is to be decided${here}.`;
  return `${where} differences to be decided${here}: ${found.length}; of these not settled as agreed: ${open}.`;
}

function releaseWords(source: AccountSource, partId: string): string {
  const inputs: readonly PackFile[] = source.facts.files.filter(
    (file) => file.partId === partId && file.kind === 'plates-input',
  );
  for (const file of inputs.toReversed()) {
    const words = wordsOf(source, 'release').filter(
      ({ statement }) => statement.subject.platesInput.sha256 === (file.pageList?.sha256 ?? file.sha256),
    );
    const how = bySides(source, words);
    if (how.inForce) return `Released to plates is ${theFile(file)}, by ${how.says}.`;
    if (how.says !== '') return `The ${fileWords(file)} is released by ${how.says} alone, which is not in force.`;
  }
  return 'Nothing was released to plates.';
}
