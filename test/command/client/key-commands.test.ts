import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runClientCommand } from '../../../src/command/client/run-client-command.ts';
import { Refusal } from '../../../src/model/index.ts';
import { fakeDesk, fakeTools } from '../fake-desk.ts';

const PASSPHRASE = 'Zürich – sieben Möwen';
let folder = '';

beforeAll(() => (folder = mkdtempSync(join(tmpdir(), 'witnessleaf-keys-'))));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function run(words: readonly string[], env: Record<string, string> = { WITNESSLEAF_PASSPHRASE: PASSPHRASE }) {
  const { desk, out, err } = fakeDesk({ folder });
  const exit = await runClientCommand(words, fakeTools(desk, { env }));
  return { exit, out: out(), err: err() };
}

describe('key new', () => {
  it('makes a key file that OpenSSL opens with the passphrase, and prints the fingerprint', async () => {
    const made = await run(['key', 'new', 'lena.p12', '--name', 'Lena Žák', '--organisation', 'Möwe & Söhne']);
    expect(made.exit).toBe(0);
    const file = join(folder, 'lena.p12');
    expect(made.out).toMatch(/lena\.p12\nfingerprint [2-9A-Z]{5}(-[2-9A-Z]{5}){4}\n$/);
    expect(statSync(file).mode & 0o777).toBe(0o600);
    writeFileSync(join(folder, 'pass'), `${PASSPHRASE}\n`);
    const shown = execFileSync(
      'openssl',
      ['pkcs12', '-in', file, '-passin', `file:${join(folder, 'pass')}`, '-nokeys'],
      {
        encoding: 'utf8',
      },
    );
    expect(shown).toContain('BEGIN CERTIFICATE');
    const again = await run(['key', 'show', 'lena.p12']);
    expect(again.out.split('\n').slice(0, 3)).toEqual([
      'Lena Žák, Möwe & Söhne',
      made.out.split('\n')[1],
      'ecdsa-p256, from 2031-05-02 to 2034-05-01',
    ]);
  });

  it('makes an RSA key of 3072 bits where that is wanted, for as long as is wanted', async () => {
    const words = ['key', 'new', 'rsa.p12', '--name', 'A', '--organisation', 'B', '--kind', 'rsa-3072', '--years', '1'];
    expect((await run(words)).exit).toBe(0);
    expect((await run(['key', 'show', 'rsa.p12'])).out).toContain('rsa-3072, from 2031-05-02 to 2032-05-01');
  });

  it('never writes over a file, which may be the only copy of a key', async () => {
    writeFileSync(join(folder, 'there.p12'), 'dear to somebody');
    const words = ['key', 'new', 'there.p12', '--name', 'A', '--organisation', 'B'];
    await expect(run(words)).rejects.toMatchObject({ kind: 'malformed', details: { expected: 'a new file' } });
    expect(readFileSync(join(folder, 'there.p12'), 'utf8')).toBe('dear to somebody');
  });

  it.each([
    [['--kind', 'rsa-1024'], '--kind: ecdsa-p256 or rsa-3072 expected, rsa-1024 found'],
    [['--years', '40'], '--years: 1 to 10 expected, 40 found'],
  ])('refuses %j', async (more, says) => {
    const words = ['key', 'new', 'no.p12', '--name', 'A', '--organisation', 'B', ...more];
    await expect(run(words)).rejects.toThrow(new Refusal('malformed', detailsOf(says)));
  });

  it('takes no passphrase of fewer than eight characters', async () => {
    const words = ['key', 'new', 'short.p12', '--name', 'A', '--organisation', 'B'];
    await expect(run(words, { WITNESSLEAF_PASSPHRASE: 'seven77' })).rejects.toMatchObject({ kind: 'malformed' });
  });

  it('asks nobody in a script, and says what it needs', async () => {
    const words = ['key', 'new', 'script.p12', '--name', 'A', '--organisation', 'B'];
    await expect(run(words, {})).rejects.toMatchObject({
      details: { pointer: 'passphrase', expected: '--passphrase-file or WITNESSLEAF_PASSPHRASE' },
    });
  });

  it('says what is missing', async () => {
    expect(await run(['key', 'new', 'x.p12', '--name', 'A'])).toEqual({
      exit: 2,
      out: '',
      err: 'witnessleaf: key new needs --organisation NAME (--help shows how)\n',
    });
    expect((await run(['key', 'old'])).err).toBe(
      'witnessleaf: “key” goes on: key new, key show, key introduce, key confirm, key list, key revoke; “old” found (--help shows how)\n',
    );
    expect((await run(['lock'])).err).toBe('witnessleaf: there is no command “lock” (--help shows how)\n');
  });
});

describe('key show', () => {
  it('prints the certificate, which is not secret, as OpenSSL reads it', async () => {
    await run(['key', 'new', 'show.p12', '--name', 'Ada', '--organisation', 'Verlag']);
    const { out } = await run(['key', 'show', 'show.p12', '--certificate']);
    const said = execFileSync('openssl', ['x509', '-noout', '-subject', '-nameopt', 'utf8'], {
      input: out,
      encoding: 'utf8',
    });
    expect(said).toContain('Ada');
  });

  it('says that the passphrase does not open the file', async () => {
    await run(['key', 'new', 'shut.p12', '--name', 'Ada', '--organisation', 'Verlag']);
    await expect(run(['key', 'show', 'shut.p12'], { WITNESSLEAF_PASSPHRASE: 'another one' })).rejects.toMatchObject({
      kind: 'unreadable',
      details: { reason: 'the passphrase does not open it, or the file is damaged' },
    });
  });
});

function detailsOf(says: string) {
  const [, pointer = '', expected = '', found = ''] = /^(.*): (.*) expected, (.*) found$/.exec(says) ?? [];
  return { pointer, expected, found };
}
