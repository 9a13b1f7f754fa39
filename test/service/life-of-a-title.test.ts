import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { checkHistory, parseBase64 } from '../../src/ledger/index.ts';
import { makeCertificate, makeKeyPair, signStatement } from '../../src/sealing/index.ts';
import type { Statement } from '../../src/model/index.ts';
import type { SigningKey } from '../../src/sealing/index.ts';
import { scratchFolder } from '../archive/scratch.ts';
import { writeBook } from '../archive/small-book.ts';
import type { SmallPage } from '../archive/small-book.ts';
import type { Caller } from './caller.ts';
import { readEvents } from './event-reader.ts';
import { done, peopledService } from './peopled-service.ts';

const service = await peopledService({ WITNESSLEAF_WORKERS: '1' }, true);
const { printer, publisher, guest, ids } = service;
const title = `/api/titles/${ids.title}`;
const events = `${service.origin}${title}/events`;

const FIRST: SmallPage = { lines: ['The harbour in the morning', 'and the boats of the night before'] };
const SECOND: SmallPage = { lines: ['Nets are mended on the quay', 'by those who went out last'], tint: '#3366aa' };
const CHANGED: SmallPage = { ...SECOND, lines: ['Nets are mended on the pier', 'by those who went out last'] };

interface Shown {
  readonly id: string;
}
interface Findings {
  readonly report: string;
  readonly items: readonly { readonly id: string; readonly ruling: { readonly state: string } }[];
}

let keys: { readonly printer: SigningKey; readonly publisher: SigningKey };
let dummy: Shown;
let input: Shown;
let mended: Shown;

async function send(pages: readonly SmallPage[], kind: string): Promise<Shown> {
  const bytes = await readFile(await writeBook(join(scratchFolder(), 'book.pdf'), pages));
  const digest = `sha-256=:${createHash('sha256').update(bytes).digest('base64')}:`;
  const path = `/api/parts/${ids.part}/files/book.pdf?kind=${kind}`;
  return (await done(printer.send('PUT', path, bytes, { 'Content-Digest': digest }), 201)) as Shown;
}

async function keyOf(who: Caller, name: string, organisation: string): Promise<SigningKey> {
  const pair = await makeKeyPair('ecdsa-p256');
  const person = { commonName: name, organisation };
  const validity = { from: '2030-01-01T00:00:00Z', until: '2040-01-01T00:00:00Z' };
  const certificate = await makeCertificate({ person, keys: pair, ...validity });
  const der = Buffer.from(certificate).toString('base64');
  await done(who.send('POST', '/api/certificates', { der }), 201);
  return { certificate, privateKey: pair.privateKey };
}

/** Drafts a statement over HTTP, signs it here as its owner does, and sends it back. */
async function state(who: Caller, key: SigningKey, order: object): Promise<Shown> {
  const { statement } = (await done(who.send('POST', `${title}/drafts`, order), 200)) as { statement: Statement };
  const { content, seal } = await signStatement(statement, key);
  const body = { content: Buffer.from(content).toString('base64'), seal: Buffer.from(seal).toString('base64') };
  return (await done(who.send('POST', `${title}/statements`, body), 201)) as Shown;
}

async function bothState(order: object): Promise<void> {
  await state(printer, keys.printer, order);
  await state(publisher, keys.publisher, order);
}

/** Waits as people do: until the news says so, whenever that was. */
async function until(event: string, file: string): Promise<void> {
  const told = await readEvents(
    events,
    { Cookie: guest.cookie, 'Last-Event-ID': first },
    (heard) => heard.event === event && heard.data.file === file,
  );
  expect(told).not.toBe(null);
}
let first = '';
let remembered: { readonly verifierKey: string; readonly note: string; readonly size: number };

beforeAll(async () => {
  const heard = await readEvents(events, { Cookie: guest.cookie }, () => true);
  expect(heard?.map(({ event }) => event)).toEqual(['anew']);
  first = heard?.[0]?.id ?? '';
  remembered = (await guest.get('/api/log/head')).json as typeof remembered;
  keys = {
    printer: await keyOf(printer, 'Ada Weiher', 'Offizin Weiher'),
    publisher: await keyOf(publisher, 'Bruno Kai', 'Verlag am Kai'),
  };
});

describe('the life of a title over HTTP', () => {
  test('the first keys are shown to both sides and confirm each other', async () => {
    const list = async () =>
      ((await guest.get(`${title}/certificates`)).json as { items: { id: string; name: string; state: string }[] })
        .items;
    const before = await list();
    expect(before.map(({ name, state: stands }) => [name, stands]).sort()).toEqual([
      ['Ada Weiher', 'introduced'],
      ['Bruno Kai', 'introduced'],
    ]);
    const idOf = (name: string): string => before.find((one) => one.name === name)?.id ?? '';
    await state(printer, keys.printer, { kind: 'key-confirmation', certificate: idOf('Bruno Kai') });
    await state(publisher, keys.publisher, { kind: 'key-confirmation', certificate: idOf('Ada Weiher') });
    expect((await list()).map(({ state: stands }) => stands)).toEqual(['confirmed', 'confirmed']);
  });

  test('a dummy is read by itself and in force when both have signed it', async () => {
    dummy = await send([FIRST, SECOND], 'dummy');
    await until('read', dummy.id);
    expect((await guest.get(`/api/files/${dummy.id}/pages`)).json).toMatchObject({
      items: [{ pageNumber: 1 }, { pageNumber: 2, unreadable: null }],
      next: null,
    });
    await bothState({ kind: 'sign-off', file: dummy.id });
    expect((await guest.get(`/api/parts/${ids.part}/state`)).json).toMatchObject({
      inForce: dummy.id,
      dummies: [{ file: dummy.id, standing: 'in-force' }],
      releases: [],
    });
  });

  test('what differs is found, shown with pictures, and stands in the way of a release', async () => {
    input = await send([FIRST, CHANGED], 'plates-input');
    await until('pictures', input.id);
    const findings = (await guest.get(`/api/files/${input.id}/findings`)).json as Findings;
    expect(findings.items).toHaveLength(1);
    expect(findings.items[0]).toMatchObject({
      finding: { kind: 'text-changed', dummyPage: 2 },
      firstFile: input.id,
      states: [{ file: input.id, state: 'there' }],
      ruling: { state: 'none', publisher: null, printer: null },
    });
    const report = await guest.get(`/api/reports/${findings.report}`);
    expect(report.json).toMatchObject({ format: 'witnessleaf-report/1', verdict: 'differs' });
    const { items } = (await guest.get(`/api/reports/${findings.report}/exhibits`)).json as {
      items: { picture: string }[];
    };
    expect(items.length).toBeGreaterThan(0);
    const picture = await guest.get(items[0]?.picture ?? '');
    expect([picture.status, picture.headers.get('content-type'), picture.text.slice(8, 12)]).toEqual([
      200,
      'image/webp',
      'WEBP',
    ]);
    const refused = await publisher.send('POST', `${title}/drafts`, { kind: 'release', file: input.id });
    expect(refused.json).toMatchObject({
      type: '/api/problems/unsettled',
      status: 409,
      findings: [expect.any(String)],
    });
    expect((await guest.get(`/api/files/${input.id}/hindrances`)).json).toMatchObject({
      items: [{ finding: findings.items[0]?.id, ruling: { state: 'none' } }],
    });
  });

  test('both talk about it; the words stay, and whoever follows hears of it', async () => {
    const { items } = (await guest.get(`/api/files/${input.id}/findings`)).json as Findings;
    const remarks = `/api/findings/${items[0]?.id}/remarks`;
    await done(publisher.send('POST', remarks, { text: 'Is the pier right?' }), 201);
    await done(printer.send('POST', remarks, { text: 'It is the quay.' }), 201);
    expect((await guest.get(remarks)).json).toMatchObject({
      items: [
        { text: 'Is the pier right?', by: { name: 'Bruno Kai' } },
        { text: 'It is the quay.', by: { name: 'Ada Weiher' } },
      ],
      next: null,
    });
    expect((await guest.get(`/api/files/${input.id}/findings`)).json).toMatchObject({ items: [{ remarks: 2 }] });
    const said = (heard: { event: string }): boolean => heard.event === 'remarked';
    const told = await readEvents(events, { Cookie: guest.cookie, 'Last-Event-ID': first }, said);
    expect(told?.at(-1)?.data).toMatchObject({ findingId: items[0]?.id });
  });

  test('a page is drawn once and then known by its hash', async () => {
    const path = `/api/files/${dummy.id}/pages/2/picture?width=160`;
    const picture = await guest.get(path);
    expect([picture.status, picture.headers.get('content-type')]).toEqual([200, 'image/webp']);
    expect((await guest.get(path, { 'If-None-Match': picture.headers.get('etag') ?? '' })).status).toBe(304);
    expect((await guest.get(`/api/files/${dummy.id}/pages/3/picture`)).status).toBe(404);
    // An address that names what is shown is kept for good; one that does not, or no longer, is asked again.
    const { items } = (await guest.get(`/api/files/${dummy.id}/pages`)).json as { items: { picture: string }[] };
    const told = async (at: string): Promise<readonly (string | null)[]> => {
      const { headers } = await guest.get(at);
      return [headers.get('etag'), headers.get('cache-control')];
    };
    const etag = picture.headers.get('etag');
    const named = `${items[1]?.picture ?? ''}&width=160`;
    expect(await told(named)).toEqual([etag, 'private, max-age=31536000, immutable']);
    expect(await told(named.replace(/shows=../, 'shows=00'))).toEqual([etag, 'private, no-cache']);
    expect(await told(path)).toEqual([etag, 'private, no-cache']);
    expect((await guest.get(`/api/files/${dummy.id}/pages/2/layout`)).json).toMatchObject({
      boxes: { trim: { x: 0, y: 0, width: expect.closeTo(100, 1) as number } },
      pictures: [],
    });
    expect((await guest.get(`/api/files/${dummy.id}/pages/2/history`)).json).toMatchObject({
      items: [
        { file: dummy.id, state: 'dummy', pageNumber: 2 },
        { file: input.id, state: 'differs', pageNumber: 2 },
      ],
    });
  });

  test('whoever was cut off hears what they missed, in order, and nothing twice', async () => {
    const isLast = ({ event, data }: { event: string; data: { file?: unknown } }): boolean =>
      event === 'pictures' && data.file === input.id;
    const all = (await readEvents(events, { Cookie: guest.cookie, 'Last-Event-ID': first }, isLast)) ?? [];
    const middle = all[Math.floor(all.length / 2)]?.id ?? '';
    const rest = await readEvents(events, { Cookie: guest.cookie, 'Last-Event-ID': middle }, isLast);
    expect(rest).toEqual(all.filter(({ id }) => Number(id) > Number(middle)));
    const kinds = new Set(all.map(({ event }) => event));
    expect(
      ['received', 'read', 'findings', 'compared', 'pictures', 'stated'].filter((kind) => !kinds.has(kind)),
    ).toEqual([]);
    const lost = await readEvents(events, { Cookie: guest.cookie, 'Last-Event-ID': '1' }, () => true);
    expect(lost?.[0]?.event).toBe('anew');
  });

  test('both rule the same, so that it is settled, and it goes on the account that they named', async () => {
    const { report, items } = (await guest.get(`/api/files/${input.id}/findings`)).json as Findings;
    const ruling = {
      kind: 'ruling',
      report,
      findings: items.map(({ id }) => id),
      decision: 'to-be-put-right',
      account: 'printers-error',
    };
    await bothState(ruling);
    const after = (await guest.get(`/api/files/${input.id}/findings`)).json as Findings;
    expect(after.items.map((one) => one.ruling.state)).toEqual(['settled']);
    const accounts = (await guest.get(`${title}/accounts`)).json;
    expect(accounts).toMatchObject({ total: { 'printers-error': 1, 'authors-alteration': 0 } });
    const table = await guest.get(`${title}/accounts.csv`);
    expect([table.status, table.text.split('\r\n').length]).toEqual([200, 3]);
  });

  test('a mended plates input is released by both', async () => {
    mended = await send([FIRST, SECOND], 'plates-input');
    await until('compared', mended.id);
    await bothState({ kind: 'release', file: mended.id });
    expect((await guest.get(`/api/parts/${ids.part}/state`)).json).toMatchObject({
      releases: [{ file: mended.id, inForce: true, onDummyInForce: true }],
    });
  });

  test('a statement that was taken is not taken again, and one that was altered does not hold', async () => {
    const list = (await guest.get(`${title}/statements`)).json as {
      items: { id: string; content: string; seal: string }[];
    };
    const [one] = list.items;
    const own = list.items.find(({ content }) => Buffer.from(content, 'base64').toString().includes('Ada Weiher'));
    const again = { content: own?.content, seal: own?.seal };
    expect((await printer.send('POST', `${title}/statements`, again)).json).toMatchObject({
      type: '/api/problems/out-of-step',
      current: 'taken before',
    });
    const altered = Buffer.from(one?.content ?? '', 'base64')
      .toString()
      .replace('Weiher', 'Weiber');
    const forged = { content: Buffer.from(altered).toString('base64'), seal: one?.seal };
    expect((await printer.send('POST', `${title}/statements`, forged)).json).toMatchObject({
      type: '/api/problems/unproven',
      status: 422,
    });
  });

  test('the log proves every entry of the title, and that it goes on from a head that was seen', async () => {
    const head = (await guest.get('/api/log/head')).json as { size: number };
    const shown = (await guest.get(`/api/log/consistency?from=${remembered.size}`)).json as {
      note: string;
      proof: string[];
    };
    const proof = shown.proof.map((one) => parseBase64(one, 'proof'));
    const { standing } = await checkHistory(remembered, { note: shown.note, proof });
    expect(standing).toEqual({ kind: 'grown', by: head.size - remembered.size });
    const [seen] = ((await guest.get(`${title}/heads-seen`)).json as { items: { size: number; party: string }[] })
      .items;
    expect(seen).toMatchObject({ party: 'printer' });
    let after = '';
    const entries: number[] = [];
    do {
      const list = (await guest.get(`${title}/log?most=7${after}`)).json as {
        items: { index: number }[];
        next: string | null;
      };
      entries.push(...list.items.map(({ index }) => index));
      after = list.next === null ? '' : `&after=${list.next}`;
    } while (after !== '');
    expect(entries).toEqual([...new Set(entries)].sort((one, other) => one - other));
    expect((await guest.get(`${title}/log/${entries.at(-1)}/proof`)).status).toBe(200);
    const others = Array.from({ length: head.size }, (_none, index) => index).filter(
      (index) => !entries.includes(index),
    );
    expect((await guest.get(`${title}/log/${others[0]}/proof`)).status).toBe(404);
  });

  test('the signed copy, the print copy, the evidence and the accounts are handed out, and the log has an entry of each', async () => {
    const exports = async (): Promise<number> => {
      const list = (await guest.get(`${title}/log?most=200`)).json as { items: { kind: string }[] };
      return list.items.filter(({ kind }) => kind === 'export').length;
    };
    for (const [path, type, begins] of [
      [`/api/files/${dummy.id}/signed-copy`, 'application/pdf', '%PDF-'],
      [`/api/files/${dummy.id}/print-copy`, 'application/pdf', '%PDF-'],
      [`${title}/evidence?contents=hashes`, 'application/zip', 'PK'],
      [`${title}/accounts.csv`, 'text/csv; charset=utf-8', 'part,page'],
    ] as const) {
      const before = await exports();
      const given = await guest.get(path);
      expect([given.status, given.headers.get('content-type'), given.text.slice(0, begins.length)]).toEqual([
        200,
        type,
        begins,
      ]);
      expect(await exports()).toBe(before + 1);
    }
    expect((await guest.get(`/api/files/${mended.id}/signed-copy`)).status).toBe(409);
  });

  test('sight that is taken ends the stream at the next event', async () => {
    const listening = readEvents(events, { Cookie: guest.cookie }, ({ event }) => event === 'received');
    await new Promise((soon) => setTimeout(soon, 100));
    await done(printer.send('DELETE', `${title}/sight/${ids.guestParty}`), 204);
    await send([FIRST], 'revision');
    expect(await listening).toBe(null);
  });
});
