import { hostname } from 'node:os';
import { join } from 'node:path';
import { mkdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { holdFolder, isSound, openArchive, scrubArchive } from '../../src/archive/index.ts';
import { laterRefusalOf } from './later-refusal-of.ts';
import { program } from './program.ts';
import { scratchFolder } from './scratch.ts';

const HOLDER = new URL('./holder.ts', import.meta.url);
const AT = Date.parse('2026-11-25T12:00:00Z');

describe('a folder', () => {
  it('K17 is held by one process at a time, named to the next, and free again when that one is killed', async () => {
    const folder = scratchFolder();
    const first = await program(HOLDER, folder);
    const refused = {
      kind: 'unavailable',
      what: folder,
      reason: `process ${first.pid} on ${hostname()}, since 2026-11-25T12:00:00.000Z, holds it`,
    };
    expect(await laterRefusalOf(holdFolder(folder, AT))).toEqual(refused);
    await first.kill('SIGKILL');
    const second = await holdFolder(folder, AT);
    expect(await laterRefusalOf(holdFolder(folder, AT))).toMatchObject({ kind: 'unavailable', what: folder });
    await second.release();
    await (await holdFolder(folder, AT)).release();
  });

  it('is read again while another process holds it', async () => {
    const folder = scratchFolder();
    (await openArchive(folder, AT)).close();
    await program(HOLDER, folder);
    expect(isSound(await scrubArchive(folder))).toBe(true);
  });

  it('in which nothing can be written is not held', async () => {
    const folder = join(scratchFolder(), 'here');
    mkdirSync(join(folder, 'service.lock'), { recursive: true });
    expect(await laterRefusalOf(holdFolder(folder, AT))).toEqual({
      kind: 'unavailable',
      what: join(folder, 'service.lock'),
      reason: 'it cannot be locked',
    });
  });
});
