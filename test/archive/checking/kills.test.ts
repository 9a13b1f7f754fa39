import { spawn } from 'node:child_process';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { checkingState, fileFindings, isSound, scrubArchive } from '../../../src/archive/index.ts';
import { DEFAULT_TOLERANCES, parseLogEntry } from '../../../src/model/index.ts';
import { openFileDesk } from './file-desk.ts';

const VICTIM = fileURLToPath(new URL('victim.ts', import.meta.url));

/** Lets a program work on the archive and kills it as soon as it tells of a stage. */
async function killAt(stage: string, folder: string): Promise<void> {
  const program = spawn(process.execPath, [VICTIM, folder], { stdio: ['ignore', 'pipe', 'inherit'] });
  const ended = new Promise((done) => program.once('exit', done));
  for await (const line of createInterface({ input: program.stdout })) if (line === stage) program.kill('SIGKILL');
  await ended;
}

it('K15 work that is killed while it reads, draws, compares and shows is done once in the end', async () => {
  const desk = await openFileDesk();
  const { archive, folder, part } = desk;
  await desk.sendPages([{ lines: ['Nets on the quay'], tint: '#3366aa' }], { kind: 'dummy' });
  const revision = await desk.sendPages([{ lines: ['Nets on the quay'], tint: '#33aa66' }]);
  for (const stage of ['reading', 'drawing', 'recognising findings', 'drawing pictures']) await killAt(stage, folder);
  await desk.workOff();
  const { reading, comparing, drawing } = await checkingState(archive.catalogue, revision, DEFAULT_TOLERANCES);
  expect([reading?.state, comparing?.state, drawing?.state]).toEqual(['done', 'done', 'done']);
  const found = await fileFindings(archive, revision.id);
  expect(found?.findings.map(({ finding }) => finding.kind)).toEqual(['artwork-changed']);
  expect((await archive.catalogue.pictures.exhibits(found!.report.id)).length).toBe(3);
  const entries = await archive.catalogue.log.ofTitle(part.titleId, { from: 0, most: 100 });
  expect(entries.map(({ bytes }) => parseLogEntry(bytes).kind)).toEqual(['upload', 'upload', 'report']);
  expect(isSound(await scrubArchive(folder))).toBe(true);
});
