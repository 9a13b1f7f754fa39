import { beforeAll, describe, expect, it } from 'vitest';
import { canonicalBytes, type Statement } from '../../src/model/index.ts';
import {
  checkStatement,
  newStatementId,
  parseStatement,
  requireStatement,
  signStatement,
  statementBytes,
  type SignedStatement,
  type SigningKey,
} from '../../src/sealing/index.ts';
import { refusalOf } from '../refusal-of.ts';
import { hashOf, KINDS, NOON, refusalOfPromise, somebody, statementsBy, TOMAS } from './people.ts';

describe('a statement', () => {
  let key: SigningKey;
  let statements: Awaited<ReturnType<typeof statementsBy>>;
  let signed: SignedStatement;
  const pinned = () => [{ certificate: key.certificate }];
  beforeAll(async () => {
    key = await somebody('ecdsa-p256');
    statements = await statementsBy(key);
    signed = await signStatement(statements['sign-off'], key);
  });

  it.each(KINDS)('of the kind %s is read back from its bytes, signed and proved', async (kind) => {
    const statement = statements[kind];
    expect(parseStatement(statementBytes(statement))).toEqual(statement);
    const own = await signStatement(statement, key);
    expect(await requireStatement({ ...own, pinned: pinned(), receivedAt: NOON })).toEqual(statement);
  });

  it('is the same bytes in whatever order its members were written', () => {
    const turned = Object.fromEntries(Object.entries(statements.ruling).reverse()) as unknown as Statement;
    expect(statementBytes(turned)).toEqual(statementBytes(statements.ruling));
  });

  it('has a number that no other has', () => {
    const ids = Array.from({ length: 100 }, newStatementId);
    expect(new Set(ids).size).toBe(100);
    expect(ids.filter((id) => !/^[0-9a-f]{32}$/.test(id))).toEqual([]);
  });

  it('that names another person or certificate than signed it is refused for both', async () => {
    const another = await somebody('ecdsa-p256');
    const content = statementBytes((await statementsBy(another, TOMAS))['sign-off']);
    const own = await signStatement(parseStatement(content), key);
    const { checks } = await checkStatement({ ...own, pinned: pinned(), receivedAt: NOON });
    expect(checks.filter(({ outcome }) => outcome !== 'holds').map(({ name }) => name)).toEqual([
      'signer-certificate',
      'signer-name',
    ]);
  });

  it('under a signature that was made for another is refused, with the check that failed', async () => {
    const content = statementBytes(statements.withdrawal);
    const refusal = await refusalOfPromise(
      requireStatement({ ...signed, content, pinned: pinned(), receivedAt: NOON }),
    );
    expect(refusal).toMatchObject({
      kind: 'unproven',
      what: 'statement 00112233445566778899aabbccddeeff',
      checks: [{ name: 'message-digest' }],
    });
  });

  it.each<readonly [string, (sound: Record<string, unknown>) => unknown, object]>([
    [
      'a member too many',
      (sound) => ({ ...sound, urgent: true }),
      { pointer: '/urgent', expected: 'no such member', found: 'true' },
    ],
    [
      'a member too few',
      ({ at: _at, ...sound }) => sound,
      { pointer: '/at', expected: 'a moment like 2026-11-25T10:00:00Z', found: 'nothing' },
    ],
    [
      'a kind that there is not',
      (sound) => ({ ...sound, kind: 'wish' }),
      { pointer: '/kind', expected: KINDS.join(' or '), found: '"wish"' },
    ],
    [
      'the subject of another kind',
      (sound) => ({ ...sound, kind: 'withdrawal' }),
      { pointer: '/subject/dummy', expected: '64 hexadecimal digits' },
    ],
    [
      'a moment with a time zone',
      (sound) => ({ ...sound, at: '2026-11-25T13:00:00+01:00' }),
      { pointer: '/at', expected: 'a moment like 2026-11-25T10:00:00Z', found: '2026-11-25T13:00:00+01:00' },
    ],
    [
      'a hash in capitals',
      (sound) => ({ ...sound, head: { origin: 'o', size: 1, root: hashOf('F') } }),
      { pointer: '/head/root', expected: '64 hexadecimal digits', found: `"${hashOf('F')}"` },
    ],
    [
      'a size below nothing',
      (sound) => ({ ...sound, head: { origin: 'o', size: -1, root: hashOf('f') } }),
      { pointer: '/head/size', expected: 'a whole number from 0', found: '-1' },
    ],
    [
      'a title that nobody can see',
      (sound) => ({ ...sound, title: { id: 't', name: 'A\u200bB' } }),
      { pointer: '/title/name', expected: 'text that can be seen', found: 'U+200B' },
    ],
    ['a list for a statement', () => [], { pointer: '/kind', expected: KINDS.join(' or '), found: 'nothing' }],
    ['nothing for a statement', () => null, { pointer: '/kind', expected: KINDS.join(' or '), found: 'nothing' }],
  ])('with %s is refused, and the refusal says where', (_, change, details) => {
    const { subject, ...outer } = statements['sign-off'];
    const given = change({ ...outer, subject: { part: subject.part, dummy: subject.dummy } });
    expect(refusalOf(() => parseStatement(canonicalBytes(given)))).toMatchObject({ kind: 'malformed', ...details });
  });

  it('on a file of no pages is refused', () => {
    const { subject, ...outer } = statements['sign-off'];
    const given = { ...outer, subject: { ...subject, dummy: { ...subject.dummy, pages: [] } } };
    expect(refusalOf(() => statementBytes(given))).toEqual({
      kind: 'malformed',
      pointer: '/subject/dummy/pages',
      expected: 'a list of at least 1',
      found: '[]',
    });
  });

  it('on more rulings than a book has is refused', () => {
    const { subject, ...outer } = statements.release;
    const rulings = Array.from({ length: 100_001 }, () => hashOf('d'));
    expect(refusalOf(() => statementBytes({ ...outer, subject: { ...subject, rulings } }))).toEqual({
      kind: 'too-large',
      what: '/subject/rulings',
      limit: 100_000,
      found: 100_001,
      unit: 'members',
    });
  });

  it('of more than 16 MiB is not even read', () => {
    expect(refusalOf(() => parseStatement(new Uint8Array(16 * 1024 * 1024 + 1)))).toEqual({
      kind: 'too-large',
      what: 'statement',
      limit: 16_777_216,
      found: 16_777_217,
      unit: 'bytes',
    });
  });

  it('written in any other way than the canonical one is refused', () => {
    const spaced = new TextEncoder().encode(JSON.stringify(statements['sign-off'], null, 1));
    expect(refusalOf(() => parseStatement(spaced))).toMatchObject({ kind: 'malformed', pointer: '/' });
  });
});
