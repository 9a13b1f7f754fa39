import { createHash } from 'node:crypto';
import { expect, test } from 'vitest';
import { formatPlan, parseFolds } from '../../src/plates/index.ts';
import { smallPlan } from '../archive/sheets/sheet-book.ts';
import { done, peopledService } from './peopled-service.ts';

const service = await peopledService();
const { printer, looker, guest, ids } = service;
const base64 = (text: string): string => Buffer.from(text, 'utf8').toString('base64');
const digest = (bytes: Uint8Array): string => `sha-256=:${createHash('sha256').update(bytes).digest('base64')}:`;
const PLANS = `/api/parts/${ids.part}/plans`;
const plan = JSON.parse(formatPlan(smallPlan(16))) as object;
const given = (await done(printer.send('POST', PLANS, plan), 201)) as { readonly plan: string };

async function put(query: string, bytes = new TextEncoder().encode('sheets'), name = 'sheets.pdf') {
  const path = `/api/parts/${ids.part}/files/${name}?kind=plates-input&${query}`;
  return printer.send('PUT', path, bytes, { 'Content-Digest': digest(bytes) });
}

async function begin(told: Readonly<Record<string, string>>) {
  const all = { part: ids.part, kind: 'plates-input', filename: 'sheets.pdf', ...told };
  const metadata = Object.entries(all).map(([key, value]) => `${key} ${base64(value)}`);
  const headers = { 'Tus-Resumable': '1.0.0', 'Upload-Length': '6', 'Upload-Metadata': metadata.join(',') };
  return printer.send('POST', '/api/uploads', undefined, headers);
}

test('a plan is given to a part by whoever may send files, and told by what it is of', async () => {
  expect(given).toMatchObject({ pages: 16, binding: 'sewn', sheets: 1, sides: 2 });
  expect(await done(printer.send('POST', PLANS, plan), 201)).toEqual(given);
  expect((await looker.send('POST', PLANS, plan)).status).toBe(403);
  expect((await guest.send('POST', PLANS, plan)).status).toBe(403);
  const unsound = await printer.send('POST', PLANS, { ...plan, pages: 12 });
  expect([unsound.status, unsound.json]).toMatchObject([
    400,
    { expected: 'pages from 1 to 12', found: expect.stringMatching(/^page 1\d$/) as string },
  ]);
});

test('sheets are sent with the plan they are folded by, or with the folds, whichever way they are sent', async () => {
  expect((await put(`plan=${given.plan}`)).json).toMatchObject({ folding: { plan: given.plan } });
  const folds = { fold: 'T>B, R>L, L>R', bound: 'perfect-bound', working: 'work-and-turn' };
  expect(parseFolds(folds.fold).length).toBe(3);
  const [one, another] = [await put(new URLSearchParams(folds).toString()), await put('fold=16')];
  expect([one.status, one.json]).toMatchObject([201, { folding: folds }]);
  // The same bytes folded in another way are another file; in the same way they are this one.
  expect([another.status, another.json]).toMatchObject([
    201,
    { folding: { fold: '16', bound: 'sewn', working: 'sheetwise' } },
  ]);
  expect((await put('fold=16')).status).toBe(200);
  expect((await put('')).json).toMatchObject({ folding: null });

  const location = (await begin({ plan: given.plan })).headers.get('location') ?? '';
  const piece = { 'Tus-Resumable': '1.0.0', 'Content-Type': 'application/offset+octet-stream', 'Upload-Offset': '0' };
  await done(printer.send('PATCH', location, new TextEncoder().encode('sheets'), piece), 204);
  const { file } = (await printer.get(location)).json as { file: string };
  expect((await printer.get(`/api/files/${file}`)).json).toMatchObject({ folding: { plan: given.plan } });

  const form = new FormData();
  for (const [key, value] of Object.entries({ kind: 'plates-input', fold: '8', bound: 'saddle-stitched' })) {
    form.set(key, value);
  }
  form.set('file', new Blob(['sheets']), 'sheets.pdf');
  const headers = { Cookie: printer.cookie, Origin: service.origin };
  const url = `${service.origin}/api/parts/${ids.part}/files`;
  const answer = await fetch(url, { method: 'POST', body: form, headers });
  expect([answer.status, await answer.json()]).toMatchObject([
    201,
    { folding: { fold: '8', bound: 'saddle-stitched', working: 'sheetwise' } },
  ]);
});

test('what cannot be is refused when an upload begins, before a byte is sent', async () => {
  const refusal = async (told: Readonly<Record<string, string>>) => {
    const { status, json } = await begin(told);
    const { pointer, what } = json as { readonly pointer?: string; readonly what?: string };
    return [status, pointer ?? what];
  };
  expect(await refusal({ plan: '0'.repeat(64) })).toEqual([404, 'plan']);
  expect(await refusal({ plan: given.plan, fold: '16' })).toEqual([400, '/header/Upload-Metadata/fold']);
  expect(await refusal({ bound: 'sewn' })).toEqual([400, '/header/Upload-Metadata/bound']);
  expect(await refusal({ fold: '16', bound: 'glued' })).toEqual([400, '/header/Upload-Metadata/bound']);
  expect(await refusal({ fold: '15' })).toEqual([400, 'sections']);
  expect(await refusal({ fold: '16', kind: 'revision' })).toEqual([400, '/folding']);
});

test('how sheets fold is said again, or confirmed, by the printer alone', async () => {
  const { id } = (await put('fold=8', new TextEncoder().encode('other sheets'), 'others.pdf')).json as { id: string };
  const again = `/api/files/${id}/folding`;
  const folds = { fold: '16', bound: 'perfect-bound', working: 'sheetwise-tumbled' };
  expect(await done(printer.send('POST', again, folds), 201)).toEqual({ folding: folds, saidAgain: 1 });
  expect(await done(printer.send('POST', again, folds), 201)).toEqual({ folding: folds, saidAgain: 1 });
  expect(await done(printer.send('POST', again, { plan: given.plan }), 201)).toMatchObject({ saidAgain: 2 });
  expect((await printer.get(`/api/files/${id}`)).json).toMatchObject({ folding: { plan: given.plan } });

  const refusalOf = async (path: string, body: object, who = printer) => {
    const { status, json } = await who.send('POST', path, body);
    const { pointer, what, missing } = json as Readonly<Record<string, string>>;
    return [status, pointer ?? missing ?? what];
  };
  expect(await refusalOf(again, folds, service.publisher)).toEqual([403, 'the role of printer']);
  expect(await refusalOf(again, folds, looker)).toEqual([403, 'the right to send files']);
  expect(await refusalOf(again, {})).toEqual([400, '/body']);
  expect(await refusalOf(again, { plan: given.plan, fold: '16' })).toEqual([400, '/body/fold']);
  expect(await refusalOf(again, { ...folds, working: 'twice' })).toEqual([400, '/body/working']);
  const seen = { plan: given.plan };
  expect(await refusalOf(`${again}/confirmation`, seen, service.publisher)).toEqual([403, 'the role of printer']);
  expect(await refusalOf(`${again}/confirmation`, seen)).toEqual([404, 'sheets']);
});
