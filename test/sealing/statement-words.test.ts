import { beforeAll, describe, expect, it } from 'vitest';
import type { Statement } from '../../src/model/index.ts';
import { fingerprintOf, sayStatement, sha256Hex, type SigningKey } from '../../src/sealing/index.ts';
import { hashOf, KINDS, somebody, statementsBy } from './people.ts';

describe('what somebody signs, in words,', () => {
  let key: SigningKey;
  let statements: Awaited<ReturnType<typeof statementsBy>>;
  beforeAll(async () => {
    key = await somebody('ecdsa-p256');
    statements = await statementsBy(key);
  });

  it('says of a sign-off who takes which file as the contract, and on which state of the log', async () => {
    expect(sayStatement(statements['sign-off'])).toEqual([
      'Sign-off of a dummy, for the title “A Winter’s Round” (winters-round).',
      'I am Anaïs Ödegård-Žižka and sign for Éditions du Phare 北京, the publisher.',
      `I take this file as the signed dummy of the part “Book block” (book-block): 2 pages in 2200000 bytes, of SHA-256 ${hashOf('a')}, each page by its own content.`,
      'Once both parties have signed it, later files of the part are held against it, page by page.',
      `I sign on 2026-11-25 at 12:00:00 UTC, when the log archive.example/log had 12 entries and the root ${hashOf('f')}.`,
      `This statement has the number 00112233445566778899aabbccddeeff; my certificate’s SHA-256 is ${await sha256Hex(key.certificate)}.`,
    ]);
  });

  /** Without the sentences that every statement has. */
  const middle = (statement: Statement) => sayStatement(statement).slice(2, -2);

  it('says of a ruling each finding, what becomes of it and who pays', () => {
    const { ruling } = statements;
    const hashes = `The report’s SHA-256 is ${hashOf('c')}, the revision’s ${hashOf('b')}, the dummy’s ${hashOf('a')}.`;
    expect(middle(ruling)).toEqual([
      'I rule on this finding in the part “Book block” (book-block):',
      '- f-1: Page 12: the picture at the left is cut by 2.1 mm at its foot.',
      'It is to be put right: the revision may not go to plates as it is there.',
      'The difference is a printer’s error, on the printer’s account.',
      hashes,
    ]);
    const findings = [...ruling.subject.findings, { id: 'f-2', says: 'Page 14 is missing.' }];
    const subject = { ...ruling.subject, findings, decision: 'agreed', account: 'authors-alteration' } as const;
    expect(middle({ ...ruling, subject })).toEqual([
      'I rule on these 2 findings in the part “Book block” (book-block):',
      '- f-1: Page 12: the picture at the left is cut by 2.1 mm at its foot.',
      '- f-2: Page 14 is missing.',
      'They are agreed: the revision may stay as it is there.',
      'The differences are author’s alterations, on the publisher’s account.',
      hashes,
    ]);
  });

  it('says of a key that it was compared by another way', async () => {
    expect(middle(statements['key-confirmation'])).toEqual([
      `I confirm that the key with the fingerprint ${await fingerprintOf(key.certificate)} is that of Tomás Ó Súilleabháin, who signs for Offizin Grün & Söhne, the printer.`,
      'I have compared the fingerprint with that person by another way than this service.',
      `The certificate’s SHA-256 is ${await sha256Hex(key.certificate)}.`,
    ]);
  });

  it('says of a release what it rests on', () => {
    const { release } = statements;
    expect(middle(release)).toEqual([
      `I release this plates input of the part “Book block” (book-block) to be made into plates: 2 pages in 2200000 bytes, of SHA-256 ${hashOf('a')}, each page by its own content.`,
      `It was compared with the dummy of SHA-256 ${hashOf('a')}, in the report of SHA-256 ${hashOf('c')}.`,
      `It rests on 1 ruling, of SHA-256 ${hashOf('d')}.`,
      'The release is in force once both parties have signed it.',
    ]);
    expect(middle({ ...release, subject: { ...release.subject, rulings: [] } })[2]).toBe('It rests on no ruling.');
  });

  it('says of a revocation from when on, of a withdrawal and a replacement why', async () => {
    expect(middle(statements.revocation)).toEqual([
      `From 2026-12-01 at 00:00:00 UTC on, nothing that is signed with the key of the fingerprint ${await fingerprintOf(key.certificate)} is mine.`,
      'What was signed with it and received before stays valid.',
      'The reason is: The computer was stolen.',
      `The certificate’s SHA-256 is ${await sha256Hex(key.certificate)}.`,
    ]);
    expect(middle(statements.withdrawal)).toEqual([
      `I take back the dummy of the part “Book block” (book-block) that is not yet in force. Its SHA-256 is ${hashOf('a')}.`,
      'The reason is: Two pages are missing.',
    ]);
    expect(middle(statements.replacement)).toEqual([
      `I agree that the dummy in force of the part “Book block” (book-block), of SHA-256 ${hashOf('e')}, gives way to a new one: 2 pages in 2200000 bytes, of SHA-256 ${hashOf('a')}, each page by its own content.`,
      'The reason is: The format has changed.',
      'The new dummy is in force once both parties have signed this; until then the old one is.',
    ]);
  });

  it.each(KINDS)('leaves out of a %s no hash, name, number or moment that is signed', (kind) => {
    const statement = statements[kind];
    const said = sayStatement(statement).join('\n');
    const words = new Set([
      'witnessleaf-statement/1',
      kind,
      'to-be-put-right',
      'printers-error',
      'publisher',
      'printer',
    ]);
    const signed = leavesOf(statement).filter(
      (leaf) => !words.has(leaf) && leaf !== hashOf('1') && leaf !== hashOf('2'),
    );
    const asSaid = (leaf: string) => leaf.replace(/^(\d{4}-\d\d-\d\d)T(.*)Z$/, '$1 at $2 UTC');
    expect(signed.filter((leaf) => !said.includes(asSaid(leaf)))).toEqual([]);
    expect(signed.length).toBeGreaterThan(10);
  });
});

function leavesOf(value: unknown): string[] {
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(leavesOf) : [String(value)];
}
