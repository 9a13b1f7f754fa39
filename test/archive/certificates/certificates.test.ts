import { describe, expect, it } from 'vitest';
import {
  admitStatement,
  certificateState,
  draftStatement,
  introduceCertificate,
  takeInPerson,
  type StatementOrder,
} from '../../../src/archive/index.ts';
import { parseLogEntry } from '../../../src/model/index.ts';
import { makeCertificate, makeKeyPair, signStatement } from '../../../src/sealing/index.ts';
import { FROM } from '../../sealing/people.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import {
  AT,
  confirm,
  entryKinds,
  keyFor,
  sendFile,
  sendSigned,
  signatory,
  stateIt,
  twoParties,
  type Signatory,
  type TwoParties,
} from '../two-parties.ts';

const MINUTE = 60_000;

/** How somebody's certificate stands with the other side. */
async function stateOf({ archive, publisher, printer }: TwoParties, whose: Signatory, at = AT): Promise<string> {
  const other = whose.actor.partyId === publisher.actor.partyId ? printer : publisher;
  const certificate = (await archive.catalogue.certificates.get(whose.certificate))!;
  return certificateState(archive.catalogue, certificate, other.actor.partyId, at);
}

const revocation = ({ title }: TwoParties, whose: Signatory, from?: string): StatementOrder => ({
  kind: 'revocation',
  titleId: title.id,
  certificate: whose.certificate,
  reason: 'The computer was stolen.',
  ...(from === undefined ? {} : { from }),
});

/** What a check did not find, by name. */
async function failedIn(promise: Promise<unknown>): Promise<unknown> {
  const refusal = (await laterRefusalOf(promise)) as { kind: string; checks?: readonly { name: string }[] };
  return refusal.kind === 'unproven' ? refusal.checks?.map(({ name }) => name) : refusal;
}

describe('a certificate', () => {
  it('is introduced by whom it is for, once, and recorded', async () => {
    const { archive, publisher } = await twoParties({ areConfirmed: false });
    const before = await archive.catalogue.log.size();
    const again = await introduceCertificate(archive, publisher.actor, publisher.key.certificate, AT + 1);
    expect(again.introducedMs).toBe(AT);
    expect(await archive.catalogue.log.size()).toBe(before);
    expect((await entryKinds(archive)).filter((kind) => kind === 'key-introduced')).toHaveLength(2);
    archive.close();
  });

  it('in another name, too weak, or not valid now is not taken, and that is recorded', async () => {
    const { archive, publisher } = await twoParties({ areConfirmed: false });
    const { name, organisation, actor } = publisher;
    const other = await keyFor('Somebody Else', organisation);
    expect(await laterRefusalOf(introduceCertificate(archive, actor, other.certificate, AT))).toEqual({
      kind: 'unproven',
      what: 'certificate',
      checks: [
        {
          name: 'certificate-person',
          expected: `${name}, ${organisation}`,
          found: `Somebody Else, ${organisation}`,
        },
      ],
    });
    const entry = await archive.catalogue.log.entry((await archive.catalogue.log.size()) - 1);
    const { kind, remark, title } = parseLogEntry(entry!.bytes);
    expect([kind, title]).toEqual(['failed-verification', null]);
    expect(remark).toContain('certificate-person');
    const keys = await makeKeyPair('ecdsa-p256');
    const person = { commonName: name, organisation };
    const past = await makeCertificate({ person, keys, from: FROM, until: '2026-02-01T00:00:00Z' });
    expect(await failedIn(introduceCertificate(archive, actor, past, AT))).toEqual(['certificate-in-time']);
    const nonsense = introduceCertificate(archive, actor, Uint8Array.of(1, 2, 3), AT);
    expect(await laterRefusalOf(nonsense)).toMatchObject({ kind: 'unreadable', file: 'certificate' });
    archive.close();
  });

  it('is introduced by nobody without the right to sign', async () => {
    const { archive, publisher } = await twoParties({ areConfirmed: false });
    const { id, partyId } = await takeInPerson(archive, publisher.actor, { name: 'Cleo', rights: ['look'] }, AT);
    const key = await keyFor('Cleo', publisher.organisation);
    expect(
      await laterRefusalOf(introduceCertificate(archive, { personId: id, partyId }, key.certificate, AT)),
    ).toMatchObject({ kind: 'not-allowed', missing: 'the right to sign' });
    archive.close();
  });
});

describe('the first keys of two parties', () => {
  it('confirm each other, and count from the second confirmation on', async () => {
    const sides = await twoParties({ areConfirmed: false });
    const { archive, publisher, printer } = sides;
    const states = async () => [await stateOf(sides, publisher), await stateOf(sides, printer)];
    expect(await states()).toEqual(['introduced', 'introduced']);
    await confirm(sides, publisher, printer);
    expect(await states()).toEqual(['introduced', 'awaiting']);
    await confirm(sides, printer, publisher);
    expect(await states()).toEqual(['confirmed', 'confirmed']);
    archive.close();
  });

  it('sign nothing else before', async () => {
    const sides = await twoParties({ areConfirmed: false });
    const { archive, publisher, printer } = sides;
    const dummy = await sendFile(sides, printer, { kind: 'dummy', name: 'dummy.pdf' });
    const order = { kind: 'sign-off', fileId: dummy.id } as const;
    expect(await laterRefusalOf(draftStatement(archive, publisher.actor, order, AT))).toEqual({
      kind: 'not-allowed',
      what: 'sign',
      missing: 'a certificate that the other side has confirmed',
    });
    // One that was drafted with a key that counts and signed with one that does not.
    await confirm(sides, publisher, printer);
    await confirm(sides, printer, publisher);
    const second = await signatory(archive, publisher.actor);
    const statement = await draftStatement(archive, publisher.actor, { ...order, signWith: publisher.certificate }, AT);
    const signer = { ...statement.signer, certificate: second.certificate };
    expect(await laterRefusalOf(sendSigned(archive, second, { ...statement, signer }))).toMatchObject({
      kind: 'unproven',
      checks: [{ name: 'certificate-confirmed', expected: 'confirmed', found: 'introduced' }],
    });
    archive.close();
  });

  it('are not confirmed by their own side, nor twice', async () => {
    const sides = await twoParties();
    const { archive, publisher, printer, title } = sides;
    const own = { kind: 'key-confirmation', titleId: title.id, certificate: publisher.certificate } as const;
    expect(await laterRefusalOf(stateIt(archive, publisher, own))).toEqual({ kind: 'not-found', what: 'certificate' });
    expect(await laterRefusalOf(confirm(sides, publisher, printer))).toMatchObject({
      kind: 'out-of-step',
      what: 'the certificate',
      current: 'confirmed by the publisher already',
    });
    archive.close();
  });
});

describe('somebody who got hold of a sign-in alone', () => {
  it('and introduces a key of their own can confirm nothing with it that counts', async () => {
    const sides = await twoParties();
    const { archive, publisher, printer } = sides;
    const thief = await signatory(archive, publisher.actor);
    const second = await signatory(archive, printer.actor);
    await confirm(sides, thief, second);
    expect(await stateOf(sides, second)).toBe('awaiting');
    // The true owner confirms it all the same.
    await confirm(sides, publisher, second);
    expect(await stateOf(sides, second)).toBe('confirmed');
    archive.close();
  });
});

describe('a key that was lost', () => {
  it('is followed by a second one, which the other side confirms and which gives the first one up', async () => {
    const sides = await twoParties();
    const { archive, publisher, printer } = sides;
    const second = await signatory(archive, publisher.actor);
    await confirm(sides, printer, second);
    expect(await stateOf(sides, second)).toBe('confirmed');
    await stateIt(archive, second, revocation(sides, publisher));
    expect(await stateOf(sides, publisher)).toBe('revoked');
    const dummy = await sendFile(sides, printer, { kind: 'dummy', name: 'dummy.pdf' });
    await stateIt(archive, second, { kind: 'sign-off', fileId: dummy.id });
    archive.close();
  });

  it('on both sides at once has the same way forward as at the beginning', async () => {
    const sides = await twoParties();
    const { archive, publisher, printer } = sides;
    const [one, other] = [await signatory(archive, publisher.actor), await signatory(archive, printer.actor)];
    await confirm(sides, one, other);
    expect(await stateOf(sides, other)).toBe('awaiting');
    await confirm(sides, other, one);
    expect([await stateOf(sides, one), await stateOf(sides, other)]).toEqual(['confirmed', 'confirmed']);
    archive.close();
  });

  it('before anybody confirmed it gives itself up', async () => {
    const sides = await twoParties({ areConfirmed: false });
    const { archive, publisher, printer } = sides;
    await stateIt(archive, publisher, revocation(sides, publisher));
    expect(await stateOf(sides, publisher)).toBe('revoked');
    expect(await laterRefusalOf(confirm(sides, printer, publisher))).toMatchObject({
      kind: 'out-of-step',
      current: 'revoked',
    });
    archive.close();
  });
});

describe('a revocation', () => {
  it('leaves what was signed before, and refuses what comes after', async () => {
    const sides = await twoParties();
    const { archive, publisher, printer, part } = sides;
    const dummy = await sendFile(sides, printer, { kind: 'dummy', name: 'dummy.pdf' });
    const order = { kind: 'sign-off', fileId: dummy.id } as const;
    const before = await stateIt(archive, publisher, order);
    // Drafted and signed while the key was good, and sent when it was so no longer.
    const late = await draftStatement(archive, printer.actor, order, AT);
    const signed = await signStatement(late, printer.key);
    await stateIt(archive, printer, revocation(sides, printer), AT + MINUTE);
    expect(await failedIn(admitStatement(archive, printer.actor, signed, AT + 2 * MINUTE))).toEqual([
      'certificate-not-revoked',
    ]);
    expect((await archive.catalogue.statements.ofPart(part.id)).map(({ id }) => id)).toEqual([before.id]);
    archive.close();
  });

  it('from a moment to come takes hold then, and may be brought forward', async () => {
    const sides = await twoParties();
    const { archive, publisher } = sides;
    await stateIt(archive, publisher, revocation(sides, publisher, '2026-11-30T00:00:00Z'));
    expect(await stateOf(sides, publisher)).toBe('confirmed');
    expect(await stateOf(sides, publisher, Date.parse('2026-11-30T00:00:00Z'))).toBe('revoked');
    const later = revocation(sides, publisher, '2026-12-01T00:00:00Z');
    expect(await laterRefusalOf(stateIt(archive, publisher, later))).toMatchObject({
      kind: 'out-of-step',
      current: 'revoked from 2026-11-30T00:00:00.000Z on already',
    });
    await stateIt(archive, publisher, revocation(sides, publisher));
    expect(await stateOf(sides, publisher)).toBe('revoked');
    archive.close();
  });

  it('does not reach back, and is not for the other side to make', async () => {
    const sides = await twoParties();
    const { archive, publisher, printer } = sides;
    const back = revocation(sides, publisher, '2026-11-24T12:00:00Z');
    expect(await laterRefusalOf(stateIt(archive, publisher, back))).toEqual({
      kind: 'out-of-step',
      what: 'the moment of revocation',
      named: '2026-11-24T12:00:00Z',
      current: '2026-11-25T12:00:00.000Z',
    });
    expect(await laterRefusalOf(stateIt(archive, publisher, revocation(sides, printer)))).toEqual({
      kind: 'not-found',
      what: 'certificate',
    });
    archive.close();
  });
});
