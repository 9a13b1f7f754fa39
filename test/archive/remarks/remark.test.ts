import { describe, expect, it } from 'vitest';
import { bringInParty, giveSight, sayOfFinding, type Actor } from '../../../src/archive/index.ts';
import { parseLogEntry } from '../../../src/model/index.ts';
import { exportEvidencePack, type PackOrder } from '../../../src/reporting/index.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import { AT, dummyInForce, keepReport, sendFile, twoParties, type TwoParties } from '../two-parties.ts';

/** A title with a finding on page 1 and one on page 2. */
async function withFindings(): Promise<TwoParties & { readonly findings: readonly string[] }> {
  const sides = await twoParties();
  const dummy = await dummyInForce(sides);
  const file = await sendFile(sides, sides.printer, { kind: 'revision', name: 'later.pdf' });
  const report = await keepReport(sides, { dummy, file }, [
    { mark: 'f1', page: 1 },
    { mark: 'f2', page: 2 },
  ]);
  const found = await sides.archive.catalogue.findings.inReport(report.id);
  return { ...sides, findings: found.map(({ finding }) => finding.id) };
}

const say = (sides: TwoParties, actor: Actor, findingId: string, text: string) =>
  sayOfFinding(sides.archive, actor, { findingId, text }, AT);

describe('what is said about a finding', () => {
  it('stays in order, with who said it, and is an entry of the log word for word', async () => {
    const sides = await withFindings();
    const [first = ''] = sides.findings;
    await say(sides, sides.publisher.actor, first, '  The window slipped.\r\nPlease move it back. ');
    await say(sides, sides.printer.actor, first, 'On Monday <b>at nine</b>.');
    const kept = await sides.archive.catalogue.remarks.onFinding(first);
    expect(kept.map(({ personId, text }) => [personId, text])).toEqual([
      [sides.publisher.actor.personId, 'The window slipped.\nPlease move it back.'],
      [sides.printer.actor.personId, 'On Monday <b>at nine</b>.'],
    ]);
    const entry = await sides.archive.catalogue.log.entry(kept[0]?.logIndex ?? -1);
    expect(parseLogEntry(entry?.bytes ?? new Uint8Array())).toMatchObject({
      kind: 'finding-remark',
      title: sides.title.id,
      by: { party: 'publisher', person: sides.publisher.actor.personId },
      remark: 'The window slipped.\nPlease move it back.',
    });
    expect([...(await sides.archive.catalogue.remarks.countsOfPart(sides.part.id))]).toEqual([[first, 2]]);
  });

  it('must be words, and not without end; what is refused is no entry', async () => {
    const sides = await withFindings();
    const before = await sides.archive.catalogue.log.size();
    const told = { pointer: '/text', expected: '1 to 4000 characters of text' };
    for (const [text, found] of [
      [' \n ', 'nothing'],
      ['x'.repeat(4001), '4001 characters'],
      ['a\u0007b', 'control characters'],
      ['a\uD800b', 'control characters'],
    ] as const) {
      const refused = await laterRefusalOf(say(sides, sides.printer.actor, sides.findings[0] ?? '', text));
      expect(refused).toEqual({ kind: 'malformed', ...told, found });
    }
    expect(await sides.archive.catalogue.log.size()).toBe(before);
  });

  it('is for the two sides: whoever only sees the title reads, whoever does not learns nothing', async () => {
    const sides = await withFindings();
    const [first = ''] = sides.findings;
    const guest = await bringInParty(sides.archive, sides.printer.actor, { party: 'Studio', person: 'Clara' }, AT);
    const actor = { personId: guest.person.id, partyId: guest.person.partyId };
    const unseen = { kind: 'not-found', what: 'finding' };
    expect(await laterRefusalOf(say(sides, actor, first, 'Mine.'))).toEqual(unseen);
    expect(await laterRefusalOf(say(sides, actor, 'nothing', 'Mine.'))).toEqual(unseen);
    const sight = { titleId: sides.title.id, partyId: actor.partyId };
    await giveSight(sides.archive, sides.printer.actor, sight, AT);
    const missing = 'the role of publisher or printer';
    expect(await laterRefusalOf(say(sides, actor, first, 'Mine.'))).toMatchObject({ kind: 'not-allowed', missing });
  });

  it('goes into the evidence: all of it for the title, for a page what was said of that page', async () => {
    const sides = await withFindings();
    const [first = '', second = ''] = sides.findings;
    await say(sides, sides.publisher.actor, first, 'Said of page one.');
    await say(sides, sides.publisher.actor, second, 'Said of page two.');
    const told = async (scope: PackOrder['scope']): Promise<readonly boolean[]> => {
      const order = { titleId: sides.title.id, scope, contents: 'hashes', seenSizes: [], authorities: [] } as const;
      const { stream } = await exportEvidencePack(sides.archive, sides.printer.actor, order, AT);
      const pack = await textOf(stream as AsyncIterable<Uint8Array>);
      return [pack.includes('“Said of page one.”'), pack.includes('“Said of page two.”')];
    };
    expect(await told({ kind: 'title' })).toEqual([true, true]);
    expect(await told({ kind: 'page', partId: sides.part.id, dummyPage: 2 })).toEqual([false, true]);
  });
});

/** Members are not compressed, so their words can be read in the whole. */
async function textOf(stream: AsyncIterable<Uint8Array>): Promise<string> {
  const pieces: Uint8Array[] = [];
  for await (const piece of stream) pieces.push(piece);
  return Buffer.concat(pieces).toString('utf8');
}
