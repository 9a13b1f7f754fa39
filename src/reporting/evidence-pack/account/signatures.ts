import type { AccountSource, Section } from './section.ts';
import { capital, momentWords, personWords } from './names.ts';
import { tellStatement } from './statement-account.ts';

/** What each person put their signature under, and when they say they did. */
export function signatureSection({ facts, statements }: AccountSource): Section {
  const rows = facts.statements.flatMap(({ entry, personId }) => {
    const statement = statements.get(entry);
    if (statement === undefined) return [];
    return [
      [
        momentWords(statement.at),
        personWords(facts, personId),
        `${capital(tellStatement(statement, facts))}.`,
        `statements/${`${entry}`.padStart(6, '0')}.json`,
      ],
    ];
  });
  const heading = 'What was signed';
  if (rows.length === 0) return { heading, blocks: [{ kind: 'text', text: 'Nothing was signed.' }] };
  const columns = [
    { title: 'When, by the signer', share: 0.15 },
    { title: 'Who', share: 0.2 },
    { title: 'What', share: 0.41 },
    { title: 'Member of the pack', share: 0.24 },
  ];
  return { heading, blocks: [{ kind: 'table', columns, rows }] };
}
