import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  admitStatement,
  draftStatement,
  examineLog,
  openTitle,
  partState,
  recorded,
  renameTitle,
  takeInPerson,
  type SentFile,
} from '../../../src/archive/index.ts';
import { canonicalBytes, parseLogEntry, type Statement, type StatementOf } from '../../../src/model/index.ts';
import { newStatementId, sealContent, sha256Hex, signStatement } from '../../../src/sealing/index.ts';
import { withByte } from '../../sealing/people.ts';
import { hashLike } from '../catalogue/filled-catalogue.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import {
  AT,
  confirm,
  dummyInForce,
  entryKinds,
  keepReport,
  keyFor,
  saysOf,
  sendFile,
  sendSigned,
  signatory,
  stateIt,
  twoParties,
  type TwoParties,
} from '../two-parties.ts';

const MINUTE = 60_000;

let sides: TwoParties;
let dummy: SentFile;
let draft: StatementOf<'sign-off'>;

beforeAll(async () => {
  sides = await twoParties();
  const { archive, printer, publisher } = sides;
  dummy = await sendFile(sides, printer, { kind: 'dummy', name: 'dummy.pdf', pages: ['a1', 'a2', 'a3'] });
  const order = { kind: 'sign-off', fileId: dummy.id } as const;
  draft = (await draftStatement(archive, publisher.actor, order, AT)) as StatementOf<'sign-off'>;
});
afterAll(() => sides.archive.close());

/** A statement like the draft but for this, signed by the publisher with the right key. */
async function refusalOfChanged(change: Partial<Statement>, at = AT): Promise<unknown> {
  const statement = { ...draft, id: newStatementId(), ...change } as Statement;
  return laterRefusalOf(sendSigned(sides.archive, sides.publisher, statement, at));
}

/** The checks that did not hold. */
async function failedOfChanged(change: Partial<Statement>): Promise<unknown> {
  const { kind, checks } = (await refusalOfChanged(change)) as { kind: string; checks: unknown };
  return kind === 'unproven' ? checks : kind;
}

describe('a statement that does not hold is refused for its own reason, and that is recorded:', () => {
  it('another content than was signed', async () => {
    const { content, seal } = await signStatement({ ...draft, id: newStatementId() }, sides.publisher.key);
    const other = canonicalBytes({ ...draft, id: newStatementId() });
    const before = await sides.archive.catalogue.log.size();
    const refused = laterRefusalOf(admitStatement(sides.archive, sides.publisher.actor, { content: other, seal }, AT));
    expect(await refused).toMatchObject({ kind: 'unproven', checks: [{ name: 'message-digest' }] });
    const broken = { content, seal: withByte(seal, seal.length - 5) };
    expect(await laterRefusalOf(admitStatement(sides.archive, sides.publisher.actor, broken, AT))).toMatchObject({
      kind: 'unproven',
      checks: [{ name: 'signature' }],
    });
    const entries = await sides.archive.catalogue.log.ofTitle(sides.title.id, { from: before, most: 9 });
    const said = entries.map(({ bytes }) => parseLogEntry(bytes));
    expect(said.map(({ kind }) => kind)).toEqual(['failed-verification', 'failed-verification']);
    expect(said[1]!.remark).toContain('signature');
    expect(said[1]!.by).toEqual({ party: 'publisher', person: sides.publisher.actor.personId });
  });

  it('no signature at all', async () => {
    const content = canonicalBytes({ ...draft, id: newStatementId() });
    const none = admitStatement(sides.archive, sides.publisher.actor, { content, seal: new Uint8Array(9) }, AT);
    const { checks } = (await laterRefusalOf(none)) as { checks: readonly { name: string }[] };
    expect(checks[0]!.name).toBe('form');
  });

  it('a certificate that nobody introduced', async () => {
    const { name, organisation, actor } = sides.publisher;
    const key = await keyFor(name, organisation);
    const signer = { ...draft.signer, certificate: await sha256Hex(key.certificate) };
    const signed = await signStatement({ ...draft, id: newStatementId(), signer }, key);
    expect(await laterRefusalOf(admitStatement(sides.archive, actor, signed, AT))).toMatchObject({
      kind: 'unproven',
      checks: [{ name: 'certificate-pinned' }, { name: 'certificate-not-revoked' }, { name: 'signer-name' }],
    });
  });

  it('another moment than the signature names', async () => {
    const content = canonicalBytes({ ...draft, id: newStatementId() });
    const seal = await sealContent(content, sides.publisher.key, '2026-11-25T12:00:01Z');
    const refused = laterRefusalOf(admitStatement(sides.archive, sides.publisher.actor, { content, seal }, AT));
    expect(await refused).toMatchObject({ kind: 'unproven', checks: [{ name: 'signing-time' }] });
  });

  it.each([
    ['drafted more than an hour ago', 61 * MINUTE],
    ['of a clock more than five minutes ahead', -6 * MINUTE],
  ])('%s', async (_, lateMs) => {
    expect(await refusalOfChanged({}, AT + lateMs)).toMatchObject({
      kind: 'out-of-step',
      what: 'the time of signing',
      named: draft.at,
    });
  });

  it('a head of another log, one with another root, and one that never was', async () => {
    const { head } = draft;
    expect(await failedOfChanged({ head: { ...head, origin: 'other.example' } })).toEqual([
      { name: 'head-origin', expected: 'archive.example/log', found: 'other.example' },
    ]);
    expect(await failedOfChanged({ head: { ...head, root: hashLike('ab') } })).toEqual([
      { name: 'head-root', expected: head.root, found: hashLike('ab') },
    ]);
    expect(await failedOfChanged({ head: { ...head, size: 10_000 } })).toEqual([
      { name: 'head-root', expected: 'no head', found: 'a head of 10000 entries' },
    ]);
  });

  it('the other side, or another name than the person has', async () => {
    expect(await failedOfChanged({ signer: { ...draft.signer, party: 'printer' } })).toEqual([
      { name: 'signer-party', expected: 'publisher', found: 'printer' },
      expect.objectContaining({ name: 'certificate-confirmed' }),
    ]);
    expect(await failedOfChanged({ signer: { ...draft.signer, name: 'Ada' } })).toMatchObject([
      { name: 'signer-name' },
    ]);
  });

  it('a subject that is not there, or not as it says', async () => {
    const subject = (change: Partial<typeof draft.subject>) => ({ subject: { ...draft.subject, ...change } });
    const file = (change: object) => subject({ dummy: { ...draft.subject.dummy, ...change } });
    expect(await failedOfChanged(file({ sha256: hashLike('ab') }))).toEqual([
      { name: 'subject-file', expected: 'a dummy of this part', found: hashLike('ab') },
    ]);
    expect(await failedOfChanged(file({ bytes: 7 }))).toEqual([
      { name: 'subject-bytes', expected: '9 bytes', found: '7 bytes' },
    ]);
    expect(await failedOfChanged(file({ pages: draft.subject.dummy.pages.slice(1) }))).toEqual([
      { name: 'subject-pages', expected: '3 pages', found: '2 pages' },
    ]);
    expect(await failedOfChanged(file({ pages: [hashLike('a1'), hashLike('b2'), hashLike('a3')] }))).toEqual([
      { name: 'subject-page-2', expected: hashLike('a2'), found: hashLike('b2') },
    ]);
    const part = { id: sides.part.id, name: 'Jacket' };
    expect(await failedOfChanged(subject({ part }))).toEqual([
      { name: 'part-name', expected: 'Book block', found: 'Jacket' },
    ]);
    expect(await failedOfChanged(subject({ part: { ...part, id: 'another' } }))).toEqual([
      { name: 'part', expected: 'a part of this title', found: 'another' },
    ]);
  });

  it('a revision signed as a dummy', async () => {
    const revision = await sendFile(sides, sides.printer, { kind: 'revision', name: 'revision.pdf' });
    const { sha256 } = revision;
    expect(await failedOfChanged({ subject: { ...draft.subject, dummy: { ...draft.subject.dummy, sha256 } } })).toEqual(
      [{ name: 'subject-file', expected: 'a dummy of this part', found: sha256 }],
    );
    expect(
      await laterRefusalOf(stateIt(sides.archive, sides.publisher, { kind: 'sign-off', fileId: revision.id })),
    ).toMatchObject({ kind: 'not-allowed', what: 'sign it as a dummy' });
  });

  it('after so much that was refused nothing was taken, and the log holds', async () => {
    expect(await sides.archive.catalogue.statements.ofPart(sides.part.id)).toEqual([]);
    expect((await examineLog(sides.archive.catalogue)).faults).toEqual([]);
  });
});

describe('without a trace in the log is refused', () => {
  it('a title that the signer does not see, in the words of one that there is not', async () => {
    const { archive, printer, publisher } = sides;
    const strangers = await twoParties();
    const elsewhere = { id: strangers.title.id, name: strangers.title.name };
    const before = await archive.catalogue.log.size();
    expect(await refusalOfChanged({ title: elsewhere })).toEqual({ kind: 'not-found', what: 'title' });
    expect(await archive.catalogue.log.size()).toBe(before);
    strangers.archive.close();
    // A title of the same two sides, but not the part's.
    const ids = { publisherId: publisher.actor.partyId, printerId: printer.actor.partyId };
    const other = await openTitle(archive, printer.actor, { name: 'Leaves', ...ids }, AT);
    expect(await failedOfChanged({ title: { id: other.id, name: 'Leaves' } })).toEqual([
      { name: 'part', expected: 'a part of this title', found: sides.part.id },
    ]);
  });

  it('another person’s certificate, and a person who may not sign', async () => {
    const { archive, publisher } = sides;
    const { id, partyId } = await takeInPerson(
      archive,
      publisher.actor,
      { name: publisher.name, rights: ['look', 'sign'] },
      AT,
    );
    const signed = await signStatement({ ...draft, id: newStatementId() }, publisher.key);
    expect(await laterRefusalOf(admitStatement(archive, { personId: id, partyId }, signed, AT))).toEqual({
      kind: 'not-allowed',
      what: 'sign with this certificate',
      missing: 'having introduced it',
    });
    const { id: looker } = await takeInPerson(archive, publisher.actor, { name: 'Cleo', rights: ['look'] }, AT);
    expect(await laterRefusalOf(admitStatement(archive, { personId: looker, partyId }, signed, AT))).toEqual({
      kind: 'not-allowed',
      what: 'sign',
      missing: 'the right to sign',
    });
  });

  it('something that is no statement', async () => {
    const content = new TextEncoder().encode('{"kind":"sign-off"}');
    const refused = admitStatement(sides.archive, sides.publisher.actor, { content, seal: new Uint8Array(1) }, AT);
    expect(await laterRefusalOf(refused)).toMatchObject({ kind: 'malformed' });
  });
});

describe('a statement that holds', () => {
  it('K16 is taken once: neither it nor another with its number is taken again', async () => {
    const all = await twoParties();
    const { archive, publisher, printer } = all;
    const file = await sendFile(all, printer, { kind: 'dummy', name: 'dummy.pdf' });
    const statement = await draftStatement(archive, publisher.actor, { kind: 'sign-off', fileId: file.id }, AT);
    const signed = await signStatement(statement, publisher.key);
    const kept = await admitStatement(archive, publisher.actor, signed, AT);
    const taken = { kind: 'out-of-step', what: 'the statement', named: statement.id, current: 'taken before' };
    expect(await laterRefusalOf(admitStatement(archive, publisher.actor, signed, AT))).toEqual(taken);
    const sameNumber = { ...statement, at: '2026-11-25T12:00:01Z' };
    expect(await laterRefusalOf(sendSigned(archive, publisher, sameNumber))).toEqual(taken);
    // The same words under a new number are another statement; but the side has signed already.
    expect(await laterRefusalOf(sendSigned(archive, publisher, { ...statement, id: newStatementId() }))).toEqual({
      kind: 'out-of-step',
      what: 'the dummy',
      named: file.id,
      current: 'signed by the publisher already',
    });
    const entry = parseLogEntry((await archive.catalogue.log.entry(kept.logIndex))!.bytes);
    expect(entry.subjects.map(({ what, id, sha256 }) => [what, id, sha256])).toEqual([
      ['statement', statement.id, kept.id],
      ['signature', statement.id, expect.stringMatching(/^[0-9a-f]{64}$/)],
    ]);
    expect((await entryKinds(archive)).filter((kind) => kind === 'statement')).toHaveLength(3);
    archive.close();
  });

  it('K16 of many that are sent at once is taken once, and both sides at once bring the dummy in force', async () => {
    const all = await twoParties();
    const { archive, publisher, printer, part } = all;
    const file = await sendFile(all, printer, { kind: 'dummy', name: 'dummy.pdf' });
    const sign = async (who: typeof publisher) => {
      const statement = await draftStatement(archive, who.actor, { kind: 'sign-off', fileId: file.id }, AT);
      return signStatement(statement, who.key);
    };
    // Two drafts of the publisher, one of them sent twice, and one of the printer, all on the same state.
    const [one, again, other] = [await sign(publisher), await sign(publisher), await sign(printer)];
    const sent = [
      admitStatement(archive, publisher.actor, one, AT),
      admitStatement(archive, printer.actor, other, AT),
      admitStatement(archive, publisher.actor, again, AT),
      admitStatement(archive, publisher.actor, one, AT),
    ];
    const answers = await Promise.all(sent.map(laterRefusalOf));
    expect(
      answers.map((answer) => (typeof answer === 'string' ? 'taken' : (answer as { kind: string }).kind)).sort(),
    ).toEqual(['out-of-step', 'out-of-step', 'taken', 'taken']);
    const { inForce } = await partState(archive.catalogue, part.id);
    expect(inForce?.signatures.map(({ party }) => party).sort()).toEqual(['printer', 'publisher']);
    expect((await examineLog(archive.catalogue)).faults).toEqual([]);
    archive.close();
  });

  it('may name an older head of this log', async () => {
    const all = await twoParties();
    const { archive, publisher, printer } = all;
    const file = await sendFile(all, printer, { kind: 'dummy', name: 'dummy.pdf' });
    const statement = await draftStatement(archive, publisher.actor, { kind: 'sign-off', fileId: file.id }, AT);
    const named = statement.head.size;
    const subjects = [{ what: 'pack', id: 'one', sha256: null }];
    const entry = { kind: 'export', titleId: null, by: null, subjects } as const;
    for (let time = 0; time < 3; time++) await recorded(archive, AT, (_tables, log) => log(entry));
    const kept = await sendSigned(archive, publisher, statement, AT + 50 * MINUTE);
    expect(kept.logIndex).toBe(named + 3);
    archive.close();
  });

  it('is refused where the title has another name by now', async () => {
    const all = await twoParties();
    const { archive, publisher, printer, title } = all;
    const file = await sendFile(all, printer, { kind: 'dummy', name: 'dummy.pdf' });
    const statement = await draftStatement(archive, publisher.actor, { kind: 'sign-off', fileId: file.id }, AT);
    await renameTitle(archive, printer.actor, { titleId: title.id, name: 'Leaves' }, AT);
    expect(await laterRefusalOf(sendSigned(archive, publisher, statement))).toEqual({
      kind: 'out-of-step',
      what: 'the name of the title',
      named: 'A Winter’s Round',
      current: 'Leaves',
    });
    archive.close();
  });

  it('can be signed with the second of two good keys', async () => {
    const all = await twoParties();
    const { archive, publisher, printer } = all;
    const second = await signatory(archive, publisher.actor);
    await confirm(all, printer, second);
    const file = await sendFile(all, printer, { kind: 'dummy', name: 'dummy.pdf' });
    const statement = await draftStatement(archive, publisher.actor, { kind: 'sign-off', fileId: file.id }, AT);
    expect(statement.signer.certificate).toBe(second.certificate);
    expect((await sendSigned(archive, second, statement)).certificate).toBe(second.certificate);
    archive.close();
  });
});

describe('a draft', () => {
  it('is refused for what it would be refused for when signed: unread and unreadable files', async () => {
    const { archive, publisher, printer } = sides;
    const unread = await sendFile(sides, printer, { kind: 'dummy', name: 'unread.pdf', isRead: false });
    expect(await laterRefusalOf(stateIt(archive, publisher, { kind: 'sign-off', fileId: unread.id }))).toEqual({
      kind: 'out-of-step',
      what: 'the file to sign',
      named: 'unread.pdf',
      current: 'not read yet',
    });
    const torn = await sendFile(sides, printer, { kind: 'dummy', name: 'torn.pdf', pages: ['a1', ''] });
    expect(await laterRefusalOf(stateIt(archive, publisher, { kind: 'sign-off', fileId: torn.id }))).toEqual({
      kind: 'unreadable',
      file: 'torn.pdf',
      reason: 'cut short',
      page: 2,
    });
  });

  it('of a ruling has the sentences of the report, and a ruling with other sentences is refused', async () => {
    const all = await twoParties();
    const { archive, publisher, printer } = all;
    const inForce = await dummyInForce(all);
    const file = await sendFile(all, printer, { kind: 'revision', name: 'revision.pdf' });
    const told = [{ mark: 'f1' }, { mark: 'f2', page: 7 }];
    const report = await keepReport(all, { dummy: inForce, file }, told);
    const order = { kind: 'ruling', reportId: report.id, decision: 'agreed', account: 'shared' } as const;
    const drafted = await draftStatement(archive, publisher.actor, { ...order, findings: ['f2', 'f1'] }, AT);
    const statement = drafted as StatementOf<'ruling'>;
    expect(statement.subject.findings).toEqual([
      { id: 'f2', says: saysOf(told[1]!) },
      { id: 'f1', says: saysOf(told[0]!) },
    ]);
    const sent = async (findings: StatementOf<'ruling'>['subject']['findings']): Promise<unknown> => {
      const subject = { ...statement.subject, findings };
      return laterRefusalOf(sendSigned(archive, publisher, { ...statement, id: newStatementId(), subject }));
    };
    expect(await sent([{ id: 'f1', says: 'Nothing to see here.' }])).toMatchObject({
      kind: 'unproven',
      checks: [{ name: 'finding-f1', expected: saysOf(told[0]!), found: 'Nothing to see here.' }],
    });
    expect(await sent([{ id: 'f9', says: 'Page 9.' }])).toMatchObject({
      kind: 'unproven',
      checks: [{ name: 'finding' }],
    });
    const twice = { id: 'f1', says: saysOf(told[0]!) };
    expect(await sent([twice, twice])).toMatchObject({ kind: 'unproven', checks: [{ name: 'findings' }] });
    const none = draftStatement(archive, publisher.actor, { ...order, findings: ['f9'] }, AT);
    expect(await laterRefusalOf(none)).toEqual({ kind: 'not-found', what: 'finding' });
    archive.close();
  });
});
