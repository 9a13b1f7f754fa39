import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { headsFolder, rememberedHead, rememberHead } from '../../../src/command/client/remembered-heads.ts';

const folder = mkdtempSync(join(tmpdir(), 'witnessleaf-heads-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const HEAD = { verifierKey: 'log.example+01020304+AAAA', note: 'log.example\n5\nAAAA\n\n— log.example BBBB\n' };

describe('the heads that this machine has seen', () => {
  it('are given back as they were remembered, each archive’s own', async () => {
    await rememberHead(folder, 'https://proofs.example', HEAD);
    await rememberHead(folder, 'https://proofs.example/second', { ...HEAD, verifierKey: 'other' });
    expect(await rememberedHead(folder, 'https://proofs.example')).toEqual(HEAD);
    expect(await rememberedHead(folder, 'https://proofs.example/third')).toBeNull();
  });

  it('are replaced by later ones, and leave nothing behind', async () => {
    const later = { ...HEAD, note: HEAD.note.replace('5', '9') };
    await rememberHead(folder, 'https://proofs.example', later);
    expect(await rememberedHead(folder, 'https://proofs.example')).toEqual(later);
    expect(readdirSync(folder).filter((name) => !name.endsWith('.head'))).toEqual([]);
  });

  it('refuse a damaged memory rather than begin anew: that is just what a cheating archive would like', async () => {
    await rememberHead(folder, 'https://damaged.example', HEAD);
    const name = readdirSync(folder).find((one) => one.startsWith('damaged'))!;
    writeFileSync(join(folder, name), 'nonsense');
    await expect(rememberedHead(folder, 'https://damaged.example')).rejects.toMatchObject({ kind: 'unreadable' });
  });

  it.each([
    [{ XDG_STATE_HOME: '/state' }, '/state/witnessleaf/heads'],
    [{ HOME: '/people/lena' }, '/people/lena/.local/state/witnessleaf/heads'],
  ])('lie where programs of %j keep their state', (env, path) => expect(headsFolder(env)).toBe(path));
});
