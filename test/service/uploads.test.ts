import { createHash, randomBytes } from 'node:crypto';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { Upload } from 'tus-js-client';
import { expect, test } from 'vitest';
import { archivePaths, openUploads } from '../../src/archive/index.ts';
import { done, peopledService } from './peopled-service.ts';

const service = await peopledService();
const { printer, publisher, sender, looker, guest, stranger, nobody, ids } = service;
const files = `/api/parts/${ids.part}/files`;
const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
const digest = (bytes: Uint8Array): string => `sha-256=:${createHash('sha256').update(bytes).digest('base64')}:`;
const base64 = (text: string): string => Buffer.from(text, 'utf8').toString('base64');
const TUS = { 'Tus-Resumable': '1.0.0' };
const PIECE = { ...TUS, 'Content-Type': 'application/offset+octet-stream' };

function metadata(told: Readonly<Record<string, string>>): string {
  return Object.entries({ part: ids.part, kind: 'revision', filename: 'Buch.pdf', ...told })
    .map(([key, value]) => `${key} ${base64(value)}`)
    .join(',');
}

async function begin(bytes: number, told: Readonly<Record<string, string>> = {}): Promise<string> {
  const headers = { ...TUS, 'Upload-Length': String(bytes), 'Upload-Metadata': metadata(told) };
  const begun = await printer.send('POST', '/api/uploads', undefined, headers);
  expect([begun.status, begun.text]).toEqual([201, '']);
  return begun.headers.get('location') ?? '';
}

async function filesOf(): Promise<readonly { readonly sha256: string; readonly name: string }[]> {
  return ((await printer.get(files)).json as { items: { sha256: string; name: string }[] }).items;
}

test('a raw file is taken with its digest, named, and handed out again with the same one', async () => {
  const bytes = randomBytes(300_000);
  const path = `${files}/${encodeURIComponent('Übergabe 1.pdf')}?kind=dummy&remark=${encodeURIComponent('erste')}`;
  const sent = (await done(publisher.send('PUT', path, bytes, { 'Content-Digest': digest(bytes) }), 201)) as {
    id: string;
  };
  expect(sent).toMatchObject({
    kind: 'dummy',
    name: 'Übergabe 1.pdf',
    remark: 'erste',
    sha256: sha256(bytes),
    position: 1,
  });
  const again = await publisher.send('PUT', path, bytes, { 'Content-Digest': digest(bytes) });
  expect([again.status, again.json]).toEqual([200, sent]);
  const answer = await fetch(`${service.origin}/api/files/${sent.id}/content`, { headers: { Cookie: guest.cookie } });
  expect(Buffer.from(await answer.arrayBuffer()).equals(bytes)).toBe(true);
  expect([answer.headers.get('content-digest'), answer.headers.get('content-disposition')]).toEqual([
    digest(bytes),
    `attachment; filename="_bergabe 1.pdf"; filename*=UTF-8''%C3%9Cbergabe%201.pdf`,
  ]);
  const ask = (range: string) =>
    fetch(`${service.origin}/api/files/${sent.id}/content`, { headers: { Cookie: guest.cookie, Range: range } });
  const middle = await ask('bytes=10-19');
  expect([middle.status, middle.headers.get('content-range')]).toEqual([206, 'bytes 10-19/300000']);
  expect(Buffer.from(await middle.arrayBuffer()).equals(bytes.subarray(10, 20))).toBe(true);
  expect(Buffer.from(await (await ask('bytes=-5')).arrayBuffer()).equals(bytes.subarray(-5))).toBe(true);
  expect((await ask('bytes=300000-')).status).toBe(416);
  const known = await ask('');
  expect(known.headers.get('etag')).toBe(`"${sha256(bytes)}"`);
});

test('a raw file whose digest is another one is refused and not kept', async () => {
  const bytes = randomBytes(1000);
  const before = await filesOf();
  const headers = { 'Content-Digest': digest(randomBytes(1)) };
  const refused = await publisher.send('PUT', `${files}/a.pdf?kind=revision`, bytes, headers);
  expect(refused.json).toMatchObject({ type: '/api/problems/unreadable', status: 422 });
  const silent = await publisher.send('PUT', `${files}/a.pdf?kind=revision`, bytes);
  expect(silent.json).toMatchObject({ status: 400, pointer: '/header/Content-Digest', found: 'nothing' });
  const weak = await publisher.send('PUT', `${files}/a.pdf?kind=revision`, bytes, { 'Content-Digest': 'md5=:AAAA:' });
  expect(weak.json).toMatchObject({ status: 400, pointer: '/header/Content-Digest' });
  expect(await filesOf()).toEqual(before);
  expect(await service.archive.blobs.sizeOf(sha256(bytes))).toBe(null);
});

test('a form is taken when its fields come first, and wholly refused when one comes behind the file', async () => {
  const bytes = randomBytes(70_000);
  const formOf = (...parts: readonly (readonly [string, string | Blob])[]): FormData => {
    const form = new FormData();
    for (const [name, value] of parts) {
      if (typeof value === 'string') form.append(name, value);
      else form.append(name, value, 'Bögen.pdf');
    }
    return form;
  };
  const post = (body: FormData) =>
    fetch(`${service.origin}${files}`, {
      method: 'POST',
      headers: { Cookie: sender.cookie, Origin: service.origin },
      body,
    });
  const file = new Blob([bytes]);
  const taken = await post(formOf(['kind', 'revision'], ['remark', 'neu'], ['file', file]));
  expect(taken.status).toBe(201);
  expect(await taken.json()).toMatchObject({
    name: 'Bögen.pdf',
    remark: 'neu',
    sha256: sha256(bytes),
    revisionNumber: 1,
  });
  const before = await filesOf();
  for (const [form, pointer] of [
    [formOf(['kind', 'revision'], ['file', file], ['remark', 'zu spät']), '/body'],
    [formOf(['kind', 'revision']), '/body'],
    [formOf(['file', file]), '/body/kind'],
    [formOf(['kind', 'revision'], ['file', file], ['file', file]), '/body'],
  ] as const) {
    const refused = await post(form);
    expect([refused.status, ((await refused.json()) as { pointer: string }).pointer]).toEqual([400, pointer]);
  }
  expect(await filesOf()).toEqual(before);
});

test('an independent tus client sends a file in pieces, is cut off, and goes on', async () => {
  const bytes = randomBytes(3_000_000);
  const token = (await done(printer.send('POST', '/api/tokens', { label: 'desk' }), 201)) as { secret: string };
  const options = {
    endpoint: `${service.origin}/api/uploads`,
    headers: { Authorization: `Bearer ${token.secret}` },
    metadata: {
      part: ids.part,
      kind: 'revision',
      filename: 'Werk.pdf',
      remark: 'Seiten 3 und 4',
      sha256: sha256(bytes),
    },
    chunkSize: 500_000,
    retryDelays: null,
  };
  const url = await new Promise<string>((broken, fail) => {
    const upload = new Upload(bytes, {
      ...options,
      onError: fail,
      onChunkComplete(_size, accepted) {
        if (accepted >= 1_000_000) void upload.abort().then(() => broken(upload.url ?? ''));
      },
    });
    upload.start();
  });
  const half = (await printer.get(new URL(url).pathname)).json as { arrived: number; state: string };
  expect(half).toMatchObject({ state: 'arriving', bytes: 3_000_000 });
  expect(half.arrived).toBeGreaterThanOrEqual(1_000_000);
  await new Promise<void>((onSuccess, onError) => {
    new Upload(bytes, { ...options, uploadUrl: url, onSuccess: () => onSuccess(), onError }).start();
  });
  const whole = (await printer.get(new URL(url).pathname)).json as { file: string };
  expect(whole).toMatchObject({ state: 'received', arrived: 3_000_000 });
  expect((await printer.get(`/api/files/${whole.file}`)).json).toMatchObject({
    name: 'Werk.pdf',
    remark: 'Seiten 3 und 4',
    sha256: sha256(bytes),
  });
});

test('bytes at the wrong place, too many of them, and other ones than were announced are refused', async () => {
  const bytes = randomBytes(1000);
  const path = await begin(1000, { sha256: sha256(bytes) });
  const patch = (offset: number, body: Uint8Array) =>
    printer.send('PATCH', path, body, { ...PIECE, 'Upload-Offset': String(offset) });
  expect((await patch(0, bytes.subarray(0, 400))).headers.get('upload-offset')).toBe('400');
  expect((await patch(0, bytes)).json).toMatchObject({
    type: '/api/problems/out-of-step',
    status: 409,
    current: 'at byte 400',
  });
  expect((await patch(400, randomBytes(601))).json).toMatchObject({ type: '/api/problems/too-large', limit: 600 });
  expect((await patch(400, randomBytes(600))).json).toMatchObject({ type: '/api/problems/unreadable', status: 422 });
  expect((await printer.get(path)).json).toMatchObject({ state: 'refused', file: null });
  expect((await patch(1000, bytes)).status).toBe(409);
  expect(readdirSync(archivePaths(service.folder).uploads)).toEqual([]);
});

test('whoever comes back takes over from the line that hangs', async () => {
  const bytes = randomBytes(2000);
  const path = await begin(2000);
  const hanging = new AbortController();
  const first = fetch(`${service.origin}${path}`, {
    method: 'PATCH',
    headers: { ...PIECE, 'Upload-Offset': '0', Cookie: printer.cookie, Origin: service.origin },
    body: Readable.toWeb(
      Readable.from(
        (async function* () {
          yield bytes.subarray(0, 500);
          await new Promise((never) => hanging.signal.addEventListener('abort', never));
        })(),
      ),
    ) as ReadableStream,
    duplex: 'half',
    signal: hanging.signal,
  } as RequestInit).catch(() => null);
  const arrived = async (): Promise<number> =>
    Number((await printer.send('HEAD', path, undefined, TUS)).headers.get('upload-offset'));
  const growing = join(archivePaths(service.folder).uploads, path.split('/').at(-1) ?? '');
  await expect.poll(() => statSync(growing).size).toBe(500);
  // What came over the hanging line is on disk before its sender is told where to go on.
  expect(await arrived()).toBe(500);
  const took = await printer.send('PATCH', path, bytes.subarray(500), { ...PIECE, 'Upload-Offset': '500' });
  expect(took.status).toBe(204);
  expect(await arrived()).toBe(2000);
  hanging.abort();
  await first;
  expect((await filesOf()).at(-1)?.sha256).toBe(sha256(bytes));
});

test('what was whole when the program was killed is a file after the next start, once', async () => {
  const bytes = randomBytes(5000);
  const path = await begin(5000);
  const id = path.split('/').at(-1) ?? '';
  await printer.send('PATCH', path, bytes.subarray(0, 3000), { ...PIECE, 'Upload-Offset': '0' });
  const { archive, folder } = service;
  const order = {
    archive,
    folder: archivePaths(folder).uploads,
    mostBytes: 10_000,
    now: () => Date.UTC(2031, 2, 2, 10),
  };
  const person = (await archive.catalogue.uploads.get(id))?.personId ?? '';
  const actor = { personId: person, partyId: ids.printerParty };
  // Another life of the program knows nothing of the running hash.
  const later = await openUploads(order);
  const broken = { ...archive.catalogue.uploads, received: () => Promise.reject(new Error('killed')) };
  const failing = await openUploads({ ...order, archive: { ...archive, catalogue: withUploads(broken) } });
  await expect(failing.append(actor, id, 3000, piecesOf(bytes.subarray(3000)))).rejects.toThrow('killed');
  expect(existsSync(join(order.folder, id))).toBe(false);
  expect(await archive.catalogue.uploads.get(id)).toMatchObject({
    state: 'whole',
    sha256: sha256(bytes),
    fileId: null,
  });
  await openUploads(order);
  const found = await later.look(actor, id);
  expect(found).toMatchObject({ state: 'received', sha256: sha256(bytes) });
  expect((await filesOf()).filter((file) => file.sha256 === sha256(bytes))).toHaveLength(1);

  function withUploads(uploads: typeof broken): typeof archive.catalogue {
    return {
      ...archive.catalogue,
      uploads,
      together: (work) => archive.catalogue.together((tables) => work({ ...tables, uploads })),
    };
  }
});

test('an upload is its sender’s own: to everybody else there is none', async () => {
  const path = await begin(10);
  const none = '/api/uploads/0000000000000000';
  for (const other of [publisher, sender, guest, stranger]) {
    const [there, missing] = [await other.get(path), await other.get(none)];
    expect([there.status, there.text]).toEqual([404, missing.text]);
  }
  expect((await nobody.get(path)).status).toBe(401);
  expect((await printer.send('DELETE', path, undefined, TUS)).status).toBe(204);
  expect((await printer.get(path)).json).toMatchObject({ state: 'given-up' });
});

test('who may not send files begins nothing, and learns of no part', async () => {
  const ask = async (who: typeof printer, part: string) => {
    const headers = { ...TUS, 'Upload-Length': '1', 'Upload-Metadata': metadata({ part }) };
    return who.send('POST', '/api/uploads', undefined, headers);
  };
  expect((await ask(looker, ids.part)).status).toBe(403);
  expect((await ask(guest, ids.part)).status).toBe(403);
  const [hidden, missing] = [await ask(stranger, ids.part), await ask(stranger, '0000000000000000')];
  expect([hidden.status, hidden.text]).toEqual([404, missing.text]);
});

test('more than the service takes is refused before a byte is sent', async () => {
  const headers = { ...TUS, 'Upload-Length': String(4096 * 2 ** 20 + 1), 'Upload-Metadata': metadata({}) };
  const refused = await printer.send('POST', '/api/uploads', undefined, headers);
  expect(refused.json).toMatchObject({ type: '/api/problems/too-large', limit: 4_294_967_296 });
  const old = await printer.send('POST', '/api/uploads', undefined, { ...headers, 'Tus-Resumable': '0.2.2' });
  expect([old.status, old.headers.get('tus-version')]).toEqual([412, '1.0.0']);
});

async function* piecesOf(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  yield bytes;
}
