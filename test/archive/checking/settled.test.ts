import { expect, it } from 'vitest';
import { askForComparisons, fileFindings, releaseGround } from '../../../src/archive/index.ts';
import type { FileFinding, SentFile } from '../../../src/archive/index.ts';
import type { SmallPage } from '../small-book.ts';
import { stateIt, twoParties } from '../two-parties.ts';
import type { TwoParties } from '../two-parties.ts';
import { openFileDesk } from './file-desk.ts';
import type { FileDesk } from './file-desk.ts';

const FIRST: SmallPage = { lines: ['The harbour in the morning'] };
const BLUE: SmallPage = { lines: ['Nets are mended'], tint: '#3366aa' };
const GREEN: SmallPage = { ...BLUE, tint: '#33aa66' };
const RED: SmallPage = { ...BLUE, tint: '#aa3322' };

async function findingsOf({ archive }: FileDesk, file: SentFile): Promise<readonly FileFinding[]> {
  return (await fileFindings(archive, file.id))!.findings;
}

/** Both sides sign the dummy. */
async function sign(title: TwoParties, desk: FileDesk, dummy: SentFile): Promise<void> {
  const order = { kind: 'sign-off', fileId: dummy.id } as const;
  for (const side of [title.publisher, title.printer]) await stateIt(title.archive, side, order, desk.order.now());
}

/** Both sides agree to a finding. */
async function agree(title: TwoParties, desk: FileDesk, file: SentFile): Promise<void> {
  const { report, findings } = (await fileFindings(desk.archive, file.id))!;
  const order = {
    kind: 'ruling',
    reportId: report.id,
    findings: findings.map(({ id }) => id),
    decision: 'agreed',
    account: 'authors-alteration',
  } as const;
  for (const side of [title.publisher, title.printer]) await stateIt(title.archive, side, order, desk.order.now());
}

it('what both sides agreed to stays settled in later files while it stays so, and comes back as new when it changes', async () => {
  const title = await twoParties();
  const desk = await openFileDesk({ drawReport: () => Promise.resolve(0) }, title);
  const dummy = await desk.sendPages([FIRST, BLUE], { kind: 'dummy' });
  const first = await desk.sendPages([FIRST, GREEN]);
  await desk.workOff();
  await sign(title, desk, dummy);
  expect((await findingsOf(desk, first)).map(({ isOpen, ruling }) => [isOpen, ruling.state])).toEqual([[true, 'none']]);
  await agree(title, desk, first);

  const drawnAnew = await desk.sendPages([FIRST, { ...GREEN, raw: 'q Q' }], { kind: 'plates-input' });
  const changed = await desk.sendPages([FIRST, RED], { kind: 'plates-input' });
  await desk.workOff();
  const [[same], [fresh]] = [await findingsOf(desk, drawnAnew), await findingsOf(desk, changed)];
  expect([same?.isOpen, same?.settled?.decision, same?.firstFile.id]).toEqual([false, 'agreed', first.id]);
  expect([fresh?.isOpen, fresh?.settled, fresh?.firstFile.id]).toEqual([true, null, changed.id]);
  const tables = desk.archive.catalogue;
  expect((await releaseGround(tables, drawnAnew)).open).toEqual([]);
  expect((await releaseGround(tables, changed)).open.map(({ findingId }) => findingId)).toEqual([fresh?.id]);
});

it('a dummy that comes into force is what files are held against, also those that came before its second signature', async () => {
  const title = await twoParties();
  const desk = await openFileDesk({ drawReport: () => Promise.resolve(0) }, title);
  const signed = await desk.sendPages([FIRST, GREEN], { kind: 'dummy' });
  await desk.sendPages([FIRST, BLUE], { kind: 'dummy' });
  await desk.workOff();
  const revision = await desk.sendPages([FIRST, GREEN]);
  await desk.workOff();
  expect((await fileFindings(desk.archive, revision.id))?.report.verdict).toBe('differs');
  await sign(title, desk, signed);
  expect(await fileFindings(desk.archive, revision.id)).toBeNull();
  const { tolerances, now } = desk.order;
  await desk.archive.catalogue.together((tables) => askForComparisons(tables, desk.part.id, { tolerances, at: now() }));
  await desk.workOff();
  const found = await fileFindings(desk.archive, revision.id);
  expect([found?.dummy.id, found?.report.verdict]).toEqual([signed.id, 'match']);
});
