import { cpSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { headOf, openArchive } from '../../../src/archive/index.ts';
import { openCheckpoint, parseVerifierKey } from '../../../src/ledger/index.ts';
import { parseLogEntry } from '../../../src/model/index.ts';
import { certificateFacts } from '../../../src/sealing/index.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import { program } from '../program.ts';
import { scratchFolder } from '../scratch.ts';

const AT = Date.parse('2026-11-25T12:00:00Z');
const OPENER = new URL('./opener.ts', import.meta.url);
const keysIn = (folder: string): string => join(folder, 'keys', 'archive-keys.json');

async function madeIn(folder: string, origin?: string): Promise<string> {
  const archive = await openArchive(folder, AT, origin === undefined ? {} : { origin });
  archive.close();
  return archive.identity.verifierKey;
}

describe('an archive signs', () => {
  it('K14 under one name and key for good, which its first entry names', async () => {
    const folder = scratchFolder();
    const verifierKey = await madeIn(folder, 'archive.example/log');
    const archive = await openArchive(folder, AT + 1, { origin: 'another.example' });
    expect([archive.identity.origin, archive.identity.verifierKey]).toEqual(['archive.example/log', verifierKey]);
    const entries = await archive.catalogue.log.entries({ from: 0, most: 9 });
    const said = entries.map(({ bytes }) => parseLogEntry(bytes));
    expect(said.map(({ kind, by }) => ({ kind, by }))).toEqual([
      { kind: 'archive-opened', by: { party: 'archive', person: null } },
    ]);
    expect(said[0]!.subjects.map(({ what, id }) => [what, id])).toEqual([
      ['verifier-key', 'archive.example/log'],
      ['certificate', 'seal'],
    ]);
    const head = await headOf(archive.catalogue, archive.identity);
    const opened = await openCheckpoint(head.note, parseVerifierKey(verifierKey));
    expect(opened.holds && opened.checkpoint.size).toBe(1);
    archive.close();
  });

  it('under a name of chance where none is given, and seals with a certificate of 30 years', async () => {
    const archive = await openArchive(scratchFolder(), AT);
    expect(archive.identity.origin).toMatch(/^witnessleaf\/[0-9a-z]{16}$/);
    const { key, maySign, from, until } = certificateFacts(archive.identity.seal.certificate);
    expect({ key, maySign, from, until: until.slice(0, 4) }).toEqual({
      key: 'ecdsa-p256',
      maySign: true,
      from: '2026-11-25T12:00:00Z',
      until: '2056',
    });
    archive.close();
  });

  it('with keys that only its own user can read', async () => {
    const folder = scratchFolder();
    await madeIn(folder);
    expect(statSync(keysIn(folder)).mode & 0o777).toBe(0o600);
    expect(statSync(join(folder, 'keys')).mode & 0o777).toBe(0o700);
  });

  it('K14 with nothing, rather than with other keys, where its own are gone or exchanged', async () => {
    const [folder, other] = [scratchFolder(), scratchFolder()];
    await madeIn(folder, 'one.example');
    await madeIn(other, 'one.example');
    cpSync(keysIn(other), keysIn(folder));
    const refused = (reason: string) => ({ kind: 'unavailable', what: 'the archive', reason });
    expect(await laterRefusalOf(openArchive(folder, AT))).toEqual(
      refused('the keys in its folder are not those of the log one.example'),
    );
    rmSync(keysIn(folder));
    expect(await laterRefusalOf(openArchive(folder, AT))).toEqual(
      refused('the keys of the log one.example are not in its folder'),
    );
    writeFileSync(keysIn(folder), readFileSync(keysIn(other), 'utf8').slice(0, -40));
    expect(await laterRefusalOf(openArchive(folder, AT))).toEqual({
      kind: 'unreadable',
      file: 'the keys of the archive',
      reason: 'they cannot be read',
    });
  });

  it('with the keys that a killed start had made', async () => {
    const [folder, other] = [scratchFolder(), scratchFolder()];
    const verifierKey = await madeIn(folder);
    cpSync(join(folder, 'keys'), join(other, 'keys'), { recursive: true });
    expect(await madeIn(other)).toBe(verifierKey);
  });

  it('with the same keys where three programs start at once', async () => {
    const folder = scratchFolder();
    const programs = await Promise.all([1, 2, 3].map(() => program(OPENER, folder)));
    programs.forEach((one) => one.say('open'));
    const found = await Promise.all(programs.map((one) => one.hear()));
    expect(found[0]).toMatch(/^witnessleaf\/[0-9a-z]{16}\S+ 1$/);
    expect(new Set(found).size).toBe(1);
  });

  it('not under a name that no signature line can bear', async () => {
    expect(await laterRefusalOf(openArchive(scratchFolder(), AT, { origin: 'two words' }))).toEqual({
      kind: 'malformed',
      pointer: 'name',
      expected: 'a name without spaces and pluses',
      found: 'two words',
    });
  });
});
