import { expect, test } from 'vitest';
import { partStage } from '../../../src/archive/index.ts';
import type { PartStage, SentFile } from '../../../src/archive/index.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import type { Party } from '../../../src/model/index.ts';
import { AT, keepReport, sendFile, stateIt, twoParties } from '../two-parties.ts';

/** A part through its life, and where each side sees it; files by their names. */
async function desk() {
  const sides = await twoParties();
  const { archive, part } = sides;
  const names = new Map<string | null, string>();
  const look = (party: Party | null): Promise<PartStage> =>
    partStage(archive.catalogue, { partId: part.id, party, tolerances: DEFAULT_TOLERANCES });
  const stands = async () => {
    const [publisher, printer, guest] = [await look('publisher'), await look('printer'), await look(null)];
    const waits = ({ waits: all }: PartStage) =>
      all.map(({ what, fileId, findings }) => [what, names.get(fileId), findings] as const);
    expect(guest).toEqual({ ...publisher, waits: [] });
    const { stage, fileId, open } = publisher;
    return { stage, file: names.get(fileId), open, publisher: waits(publisher), printer: waits(printer) };
  };
  const send = async (kind: SentFile['kind'], name: string): Promise<SentFile> => {
    const file = await sendFile(sides, sides.printer, { kind, name });
    names.set(file.id, name);
    return file;
  };
  return { ...sides, stands, send };
}

test('a part waits for both to sign its dummy, then for whoever has not', async () => {
  const { archive, publisher, printer, stands, send } = await desk();
  const nothing = { open: 0, publisher: [], printer: [] };
  expect(await stands()).toEqual({ stage: 'empty', file: undefined, ...nothing });
  const dummy = await send('dummy', 'dummy');
  const toSign = ['dummy-to-sign', 'dummy', 0];
  const before = { stage: 'dummy-to-sign', file: 'dummy', ...nothing };
  expect(await stands()).toEqual({ ...before, publisher: [toSign], printer: [toSign] });
  await stateIt(archive, publisher, { kind: 'sign-off', fileId: dummy.id });
  expect(await stands()).toEqual({ ...before, printer: [toSign] });
  await stateIt(archive, printer, { kind: 'sign-off', fileId: dummy.id });
  expect(await stands()).toEqual({ stage: 'dummy-in-force', file: 'dummy', ...nothing });
});

test('another dummy waits for nobody until one side wants it in place of the one in force', async () => {
  const { archive, publisher, printer, stands, send } = await desk();
  const first = await send('dummy', 'dummy');
  for (const side of [publisher, printer]) await stateIt(archive, side, { kind: 'sign-off', fileId: first.id });
  const second = await send('dummy', 'better');
  expect(await stands()).toMatchObject({ stage: 'dummy-in-force', file: 'dummy', publisher: [], printer: [] });
  await stateIt(archive, publisher, { kind: 'replacement', fileId: second.id, reason: 'a page more' });
  expect(await stands()).toMatchObject({ publisher: [], printer: [['dummy-to-sign', 'better', 0]] });
});

test('findings wait for each side’s word, and again where the two words differ, until both agree and release', async () => {
  const { archive, part, publisher, printer, stands, send } = await desk();
  const sides = { archive, part };
  const dummy = await send('dummy', 'dummy');
  for (const side of [publisher, printer]) await stateIt(archive, side, { kind: 'sign-off', fileId: dummy.id });
  const plates = await send('plates-input', 'plates');
  const report = await keepReport(sides, { dummy, file: plates }, [
    { mark: 'f1' },
    { mark: 'f2', weight: 'look' },
    { mark: 'f3', weight: 'note' },
  ]);
  const ids = (await archive.catalogue.findings.inReport(report.id)).map(({ finding }) => finding.id);
  const rule = (side: typeof publisher, which: readonly number[], decision: 'agreed' | 'to-be-put-right') =>
    stateIt(archive, side, {
      ...{ kind: 'ruling', reportId: report.id, findings: which.map((index) => ids[index]!) },
      ...{ decision, account: 'shared' },
    });
  const waiting = (count: number) => [['findings-to-rule-on', 'plates', count]];
  const open = { stage: 'findings-open', file: 'plates' };
  expect(await stands()).toEqual({ ...open, open: 2, publisher: waiting(2), printer: waiting(2) });
  await rule(publisher, [0], 'agreed');
  expect(await stands()).toEqual({ ...open, open: 2, publisher: waiting(1), printer: waiting(2) });
  await rule(printer, [0], 'to-be-put-right');
  expect(await stands()).toEqual({ ...open, open: 2, publisher: waiting(2), printer: waiting(2) });
  await rule(printer, [0, 1], 'agreed');
  expect(await stands()).toEqual({ ...open, open: 1, publisher: waiting(1), printer: [] });
  await rule(publisher, [1], 'agreed');
  expect(await stands()).toEqual({ stage: 'agrees', file: 'plates', open: 0, publisher: [], printer: [] });
  await stateIt(archive, printer, { kind: 'release', fileId: plates.id });
  const released = { stage: 'release-to-sign', file: 'plates', open: 0, printer: [] };
  expect(await stands()).toEqual({ ...released, publisher: [['release-to-sign', 'plates', 0]] });
  await stateIt(archive, publisher, { kind: 'release', fileId: plates.id });
  expect(await stands()).toEqual({ ...released, stage: 'released', publisher: [] });
});

test('a file that could not be read waits for somebody to see to it, and is not to be signed', async () => {
  const { archive, stands, send } = await desk();
  const { jobs } = archive.catalogue;
  const dummy = await send('dummy', 'dummy');
  const job = { kind: 'read', key: `read/${dummy.id}`, order: { fileId: dummy.id }, at: AT, mostTries: 1 } as const;
  await jobs.add(job);
  expect(await stands()).toMatchObject({ stage: 'reading', file: 'dummy' });
  const lease = await jobs.claim({ owner: 'test', at: AT, leaseMs: 1 });
  await jobs.fail(lease!, { at: AT, cause: 'cut short', again: null });
  const failed = [['failed-file', 'dummy', 0]];
  expect(await stands()).toEqual({ stage: 'failed', file: 'dummy', open: 0, publisher: failed, printer: failed });
});
