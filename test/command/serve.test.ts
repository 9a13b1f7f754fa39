import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { createHash, randomBytes } from 'node:crypto';
import { once } from 'node:events';
import { statSync } from 'node:fs';
import { createServer, type AddressInfo } from 'node:net';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { text as allOf } from 'node:stream/consumers';
import { fileURLToPath } from 'node:url';
import { afterEach, expect, test } from 'vitest';
import { holdFolder, isSound, scrubArchive } from '../../src/archive/index.ts';
import { scratchFolder } from '../archive/scratch.ts';
import { browserAt } from '../service/caller.ts';

const PROGRAM = fileURLToPath(new URL('../../src/command/witnessleaf.ts', import.meta.url));
const PIECE = { 'Tus-Resumable': '1.0.0', 'Content-Type': 'application/offset+octet-stream' };
const base64 = (text: string): string => Buffer.from(text).toString('base64');

interface Running {
  readonly process: ChildProcess;
  readonly origin: string;
  readonly link: string | null;
}

const running: ChildProcess[] = [];
afterEach(() => running.splice(0).forEach((one) => one.kill('SIGKILL')));

function start(folder: string, port = '0'): ChildProcess {
  const environment = { WITNESSLEAF_FOLDER: folder, WITNESSLEAF_PORT: port, WITNESSLEAF_STOP_SECONDS: '10' };
  const started = spawn(process.execPath, [PROGRAM, 'serve'], {
    env: { ...process.env, ...environment },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  running.push(started);
  started.stdout.resume();
  return started;
}

async function serve(folder: string): Promise<Running> {
  const started = start(folder);
  const said = started.stderr!;
  let told = '';
  for await (const piece of said) {
    told += String(piece);
    const origin = /listens at (\S+)\n/.exec(told)?.[1];
    const link = /^(http\S+)\n$/m.exec(told)?.[1] ?? null;
    // The link comes in the same moment; where there is none, nothing follows.
    if (origin !== undefined) {
      said.resume();
      return { process: started, origin, link };
    }
  }
  throw new Error(`it did not start: ${told}`);
}

/** A start that ends by itself: what it says on standard error, and its exit status. */
async function serveInVain(folder: string, port = '0'): Promise<readonly [said: string, exit: unknown]> {
  const started = start(folder, port);
  const ended = once(started, 'close');
  return [await allOf(started.stderr!), (await ended)[0]];
}

/** A title with a part, and an upload begun in it. */
async function beginUpload(who: ReturnType<typeof browserAt>, bytes: number): Promise<string> {
  const ask = async (path: string, body: unknown): Promise<{ id: string; person?: { party: string } }> =>
    (await who.send('POST', path, body)).json as { id: string };
  const me = (await who.get('/api/me')).json as { party: { id: string } };
  const other = await ask('/api/parties', { party: 'Verlag', person: 'Bruno' });
  const title = await ask('/api/titles', { name: 'Buch', publisher: other.person?.party, printer: me.party.id });
  const part = await ask(`/api/titles/${title.id}/parts`, { kind: 'book-block' });
  const told = `part ${base64(part.id)},kind ${base64('dummy')},filename ${base64('Buch.pdf')}`;
  const headers = { 'Tus-Resumable': '1.0.0', 'Upload-Length': String(bytes), 'Upload-Metadata': told };
  return (await who.send('POST', '/api/uploads', undefined, headers)).headers.get('location') ?? '';
}

/** Sends the first bytes and then holds the line; the rest goes when it is told to. */
function sendSlowly(
  url: string,
  headers: Readonly<Record<string, string>>,
  bytes: Uint8Array,
  rest: Promise<Uint8Array>,
) {
  const body = Readable.toWeb(
    Readable.from(
      (async function* () {
        yield bytes;
        yield await rest;
      })(),
    ),
  );
  return fetch(url, { method: 'PATCH', headers, body: body as ReadableStream, duplex: 'half' } as RequestInit);
}

test('an upload goes on where it stood when the service was killed, a second service is refused meanwhile, and a stop waits for the one that is under way', async () => {
  const folder = scratchFolder();
  const bytes = randomBytes(200_000);
  const one = await serve(folder);
  const who = browserAt(one.origin);
  const told = { signInName: 'ada', password: 'ein Blatt bleibt stehen', first: { party: 'Offizin', person: 'Ada' } };
  expect((await who.send('POST', '/api/accounts', { invitation: one.link?.split('#')[1], ...told })).status).toBe(201);
  const path = await beginUpload(who, bytes.length);
  const safe = await who.send('PATCH', path, bytes.subarray(0, 50_000), { ...PIECE, 'Upload-Offset': '0' });
  expect(safe.headers.get('upload-offset')).toBe('50000');
  const own = (origin: string) => ({ ...PIECE, Cookie: who.cookie, Origin: origin });
  const grown = (): number => statSync(join(folder, 'uploads', path.split('/').at(-1) ?? '')).size;
  const never = new Promise<Uint8Array>(() => undefined);
  const cut = sendSlowly(
    `${one.origin}${path}`,
    { ...own(one.origin), 'Upload-Offset': '50000' },
    bytes.subarray(50_000, 90_000),
    never,
  );
  const isCut = expect(cut).rejects.toThrow('fetch failed');
  await expect.poll(grown).toBe(90_000);
  const refused = new RegExp(`^witnessleaf: ${folder}: process ${one.process.pid} on \\S+, since \\S+, holds it\n$`);
  expect(await serveInVain(folder)).toEqual([expect.stringMatching(refused), 2]);
  one.process.kill('SIGKILL');
  await isCut;

  const two = await serve(folder);
  expect(two.link).toBe(null);
  const again = browserAt(two.origin);
  again.cookie = who.cookie;
  const head = await again.send('HEAD', path, undefined, { 'Tus-Resumable': '1.0.0' });
  expect(head.headers.get('upload-offset')).toBe('50000');
  let send: (rest: Uint8Array) => void = () => undefined;
  const rest = new Promise<Uint8Array>((later) => (send = later));
  const last = sendSlowly(
    `${two.origin}${path}`,
    { ...own(two.origin), 'Upload-Offset': '50000' },
    bytes.subarray(50_000, 60_000),
    rest,
  );
  await expect.poll(grown).toBe(60_000);
  two.process.kill('SIGTERM');
  await expect
    .poll(async () =>
      fetch(`${two.origin}/health/alive`).then(
        () => 'taken',
        () => 'refused',
      ),
    )
    .toBe('refused');
  send(bytes.subarray(60_000));
  expect((await last).status).toBe(204);
  expect((await once(two.process, 'exit'))[0]).toBe(143);

  const three = await serve(folder);
  const later = browserAt(three.origin);
  later.cookie = who.cookie;
  const { file } = (await later.get(path)).json as { file: string };
  expect((await later.get(`/api/files/${file}`)).json).toMatchObject({
    name: 'Buch.pdf',
    sha256: createHash('sha256').update(bytes).digest('hex'),
  });
  three.process.kill('SIGTERM');
  await once(three.process, 'exit');
  expect(isSound(await scrubArchive(folder, () => undefined))).toBe(true);
});

test('a service that cannot listen ends with one line and lets go of its folder', async () => {
  const other = createServer().listen(0, '127.0.0.1');
  await once(other, 'listening');
  const { port } = other.address() as AddressInfo;
  const folder = scratchFolder();
  const said = `witnessleaf: 127.0.0.1:${port}: something else listens there already\n`;
  expect(await serveInVain(folder, `${port}`)).toEqual([said, 2]);
  other.close();
  await (await holdFolder(folder, 0)).release();
});
