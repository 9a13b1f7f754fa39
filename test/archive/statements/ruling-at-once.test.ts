import { expect, it } from 'vitest';
import { draftStatement } from '../../../src/archive/index.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import { AT, dummyInForce, keepReport, sendFile, sendSigned, twoParties } from '../two-parties.ts';

it('a ruling is refused where the own side has ruled since it was drafted, and not where the other has', async () => {
  const all = await twoParties();
  const { archive, publisher, printer } = all;
  const inForce = await dummyInForce(all);
  const file = await sendFile(all, printer, { kind: 'revision', name: 'revision.pdf' });
  const report = await keepReport(all, { dummy: inForce, file }, [{ mark: 'f1' }, { mark: 'f2', page: 7 }]);
  const ruling = { kind: 'ruling', reportId: report.id, account: 'shared' } as const;
  const draftOf = (by: typeof publisher, decision: 'agreed' | 'to-be-put-right', findings: readonly string[]) =>
    draftStatement(archive, by.actor, { ...ruling, decision, findings }, AT);
  const [first, second, other, theirs] = [
    await draftOf(publisher, 'agreed', ['f1', 'f2']),
    await draftOf(publisher, 'to-be-put-right', ['f2']),
    await draftOf(publisher, 'agreed', ['f1']),
    await draftOf(printer, 'to-be-put-right', ['f1']),
  ];
  const { logIndex } = await sendSigned(archive, publisher, first);
  await sendSigned(archive, printer, theirs);
  for (const late of [second, other]) {
    expect(await laterRefusalOf(sendSigned(archive, publisher, late))).toEqual({
      kind: 'out-of-step',
      what: 'your side’s word on a finding',
      named: `that of entry ${late.head.size - 1} or before`,
      current: `another one since, entry ${logIndex}`,
    });
  }
  // Seen, it may be said anew.
  await sendSigned(archive, publisher, await draftOf(publisher, 'to-be-put-right', ['f2']));
  archive.close();
});
