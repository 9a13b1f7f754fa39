import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import type { Right } from '../../src/archive/index.ts';
import { ROUTES } from '../../src/service/index.ts';
import type { Caller, Heard } from './caller.ts';
import { done, PASSWORD, peopledService } from './peopled-service.ts';

type Route = (typeof ROUTES)[number];

const service = await peopledService();
const { printer, publisher, looker, sender, idle, guest, stranger, nobody, ended, badToken, ids } = service;

const NOT_THERE = '0000000000000000';
const there = await seed();

/** What people may do, by who they are. `none`: to them there is no such title. */
const SEEING: Readonly<Record<string, { readonly who: Caller; readonly may: readonly Right[] }>> = {
  'the printer, with every right': { who: printer, may: ['look', 'send-files', 'sign'] },
  'the publisher, with every right': { who: publisher, may: ['look', 'send-files', 'sign'] },
  'the publisher’s sender': { who: sender, may: ['look', 'send-files'] },
  'the publisher’s looker': { who: looker, may: ['look'] },
  'whoever was given sight': { who: guest, may: ['look'] },
};
const UNSEEING: Readonly<Record<string, Caller>> = {
  'a stranger with an account': stranger,
  'somebody of the publisher without a right': idle,
};
const OUTSIDE: Readonly<Record<string, Caller>> = {
  nobody,
  'an ended session': ended,
  'a token that is none': badToken,
};

const onTitle = ROUTES.filter(({ who }) => who.may === 'standing');
const signedIn = ROUTES.filter(({ who }) => who.may === 'signed-in');
const forAll = ROUTES.filter(({ who }) => who.may === 'anybody');

test('the table has every kind of route, and each says whom it is for', () => {
  expect([onTitle, signedIn, forAll].map(({ length }) => length > 5)).toEqual([true, true, true]);
  expect(new Set(ROUTES.map(({ name }) => name)).size).toBe(ROUTES.length);
  expect(new Set(ROUTES.map(({ method, path }) => `${method} ${path}`)).size).toBe(ROUTES.length);
});

describe.each(onTitle.map((route) => [nameOf(route), route] as const))('%s', (_name, route) => {
  test.each(Object.entries(OUTSIDE))('%s learns nothing', async (_who, caller) => {
    const [one, other] = [await ask(caller, route, there), await ask(caller, route, missing(route))];
    expect(one.status).toBe(401);
    expect(bytesOf(one)).toEqual(bytesOf(other));
  });

  test.each(Object.entries(UNSEEING))('to %s it is as if there were nothing', async (_who, caller) => {
    const [one, other] = [await ask(caller, route, there), await ask(caller, route, missing(route))];
    expect(one.status).toBe(404);
    expect(bytesOf(one)).toEqual(bytesOf(other));
  });

  test.each(Object.entries(SEEING))('%s may exactly what their rights say', async (_who, { who, may }) => {
    const right = route.who.may === 'standing' ? route.who.right : 'look';
    const heard = await ask(who, route, there);
    const none = await ask(who, route, missing(route));
    expect([none.status, (none.json as { what?: string } | null)?.what]).toEqual([404, thingOf(route)]);
    if (may.includes(right)) {
      expect([401, 403, 405, 500]).not.toContain(heard.status);
      expect((heard.json as { what?: string } | null)?.what).not.toBe(thingOf(route));
      requireForm(route, heard);
    } else {
      expect([heard.status, (heard.json as { type: string }).type]).toEqual([403, '/api/problems/not-allowed']);
    }
  });
});

describe.each(signedIn.map((route) => [nameOf(route), route] as const))('%s', (_name, route) => {
  test.each(Object.entries(OUTSIDE))('%s learns nothing', async (_who, caller) => {
    const [one, other] = [await ask(caller, route, there), await ask(caller, route, allMissing())];
    expect(one.status).toBe(401);
    expect(bytesOf(one)).toEqual(bytesOf(other));
  });

  test('a stranger hears nothing of what is others’, and cannot tell whether it is there', async () => {
    const asked = async (params: Readonly<Record<string, string>>, probe: Probe): Promise<Heard> => {
      const heard = await ask(stranger, route, params, probe);
      // Whoever signs out comes in again for the next question.
      if (route.name === 'signOut') {
        await done(stranger.send('POST', '/api/sessions', { signInName: 'dora', password: PASSWORD }), 201);
      }
      return heard;
    };
    for (const [probe, instead] of probesOf(route)) {
      const [one, other] = [await asked(there, probe), await asked(allMissing(), instead)];
      expect(bytesOf(one)).toEqual(bytesOf(other));
      expect([401, 500]).not.toContain(one.status);
      expect(secretsIn(one)).toEqual([]);
    }
  });
});

describe.each(forAll.map((route) => [nameOf(route), route] as const))('%s', (_name, route) => {
  test('tells nobody anything of anybody', async () => {
    const [one, other] = [await ask(nobody, route, there), await ask(nobody, route, allMissing())];
    expect(one.status).not.toBe(500);
    if (route.path !== '/metrics') expect(bytesOf(one)).toEqual(bytesOf(other));
    expect(secretsIn(one)).toEqual([]);
  });
});

/** What a request brings beside its path. */
interface Probe {
  readonly body?: unknown;
  readonly query?: string;
  readonly headers?: Readonly<Record<string, string>>;
}

/** Requests that name something in their bodies, queries or headers: with what is there, and with what is not. */
function probesOf({ name }: Route): readonly (readonly [Probe, Probe])[] {
  const pair = (make: (known: Readonly<Record<string, string>>) => Probe) => [make(there), make(allMissing())] as const;
  const AFTER_A_TITLE = pair(({ laterTitleId = '' }) => ({
    query: `?after=${Buffer.from(laterTitleId).toString('base64url')}`,
  }));
  const base64 = (text = ''): string => Buffer.from(text).toString('base64');
  const named: Readonly<Record<string, readonly (readonly [Probe, Probe])[]>> = {
    listTitles: [AFTER_A_TITLE],
    readDesk: [AFTER_A_TITLE],
    openTitle: [
      pair(({ partyId = '' }) => ({ body: { name: 'Mein', publisher: service.strangerParty, printer: partyId } })),
    ],
    beginUpload: [
      pair(({ partId }) => ({
        headers: {
          'Tus-Resumable': '1.0.0',
          'Upload-Length': '1',
          'Upload-Metadata': `part ${base64(partId)},kind ${base64('revision')},filename ${base64('a.pdf')}`,
        },
      })),
    ],
  };
  return named[name] ?? [[{}, {}]];
}

async function ask(
  caller: Caller,
  route: Route,
  params: Readonly<Record<string, string>>,
  probe: Probe = {},
): Promise<Heard> {
  const path = route.path.replace(/\{(\w+)\}/g, (_all, name: string) => encodeURIComponent(params[name] ?? NOT_THERE));
  // The stream of events never ends: a first event is enough to know that it was opened.
  if (route.name === 'followTitle') return firstEvent(caller, path);
  return caller.send(route.method.toUpperCase(), path + (probe.query ?? ''), probe.body, { ...probe.headers });
}

async function firstEvent(caller: Caller, path: string): Promise<Heard> {
  const leave = new AbortController();
  const own: Readonly<Record<string, string>> =
    'cookie' in caller
      ? { Cookie: String(caller.cookie) }
      : caller === badToken
        ? { Authorization: `Bearer ${'A'.repeat(43)}` }
        : {};
  const answer = await fetch(`${service.origin}${path}`, { headers: own, signal: leave.signal });
  if (answer.ok) {
    leave.abort();
    return { status: answer.status, headers: answer.headers, text: '', json: null };
  }
  const text = await answer.text();
  return { status: answer.status, headers: answer.headers, text, json: JSON.parse(text) as unknown };
}

/** Everything of an answer that tells neither the time nor the room on the disk, which others fill meanwhile. */
function bytesOf({ status, headers, text }: Heard): unknown {
  const steady = text.replace(/"freeBytes":\d+/, '"freeBytes":0');
  const passing = ['date', 'ratelimit', 'ratelimit-policy', 'connection', 'keep-alive'];
  if (steady !== text) passing.push('etag', 'content-length');
  return { status, text: steady, headers: [...headers].filter(([name]) => !passing.includes(name)).sort() };
}

function requireForm(route: Route, heard: Heard): void {
  if (heard.status >= 400) {
    expect(heard.json).toMatchObject({ status: heard.status, type: expect.any(String) as string });
    return;
  }
  const form = route.answers[heard.status];
  expect(form, `${heard.status} is not documented`).toBeDefined();
  if (form?.json !== undefined) form.json.parse(heard.json);
}

/** Names and ids that only those may hear of who see the title. */
function secretsIn({ text, headers }: Heard): readonly (string | undefined)[] {
  const all = text + JSON.stringify([...headers]);
  const names = ['Winterbuch', 'Verlag am Kai', 'Bruno', 'Clara', 'Buch.pdf', 'geheim'];
  const secrets = [
    ids.title,
    ids.part,
    ids.publisherParty,
    there.fileId,
    there.dummyId,
    there.reportId,
    there.findingId,
    there.uploadId,
  ];
  return [...names, ...secrets].filter((secret) => all.includes(secret ?? ' '));
}

function nameOf({ method, path }: Route): string {
  return `${method.toUpperCase()} ${path}`;
}

function thingOf({ who }: Route): string {
  return who.may === 'standing' ? who.on : '';
}

/** The same path with a thing that is not there. */
function missing({ who }: Route): Readonly<Record<string, string>> {
  return who.may === 'standing' ? { ...there, [`${who.on}Id`]: NOT_THERE } : there;
}

function allMissing(): Readonly<Record<string, string>> {
  const kept = ['kind', 'pageNumber', 'size', 'index', 'side', 'name'];
  return Object.fromEntries(
    Object.entries(there).map(([name, value]) => [name, kept.includes(name) ? value : NOT_THERE]),
  );
}

/** One of everything that a path can name. */
async function seed(): Promise<Readonly<Record<string, string>>> {
  const files = `/api/parts/${ids.part}/files`;
  const send = async (kind: string, text: string): Promise<{ id: string; sha256: string }> => {
    const bytes = new TextEncoder().encode(text);
    const digest = `sha-256=:${createHash('sha256').update(bytes).digest('base64')}:`;
    const path = `${files}/Buch.pdf?kind=${kind}&remark=geheim`;
    return (await done(printer.send('PUT', path, bytes, { 'Content-Digest': digest }), 201)) as {
      id: string;
      sha256: string;
    };
  };
  const [dummy, input] = [await send('dummy', 'one'), await send('plates-input', '{"one": 1}')];
  const { catalogue } = service.archive;
  const report = await catalogue.reports.add({
    partId: ids.part,
    dummyId: dummy.id,
    fileId: input.id,
    terms: '0'.repeat(64),
    verdict: 'match',
    sha256: input.sha256,
    at: Date.UTC(2031, 2, 2, 9),
  });
  const finding = await catalogue.findings.note({
    ...{ partId: ids.part, reportId: report.id, identity: '1'.repeat(64), kind: 'page-missing', dummyPage: 4 },
    ...{ mark: 'f1', weight: 'note', at: Date.UTC(2031, 2, 2, 9) },
  });
  // Older than a title of others: where a list goes on from that one, it would show whether it is there.
  const eva = (await done(stranger.send('POST', '/api/parties', { party: 'Haus Eva', person: 'Eva' }), 201)) as {
    person: { party: string };
  };
  const open = async (who: Caller, name: string, sides: object): Promise<{ id: string }> =>
    (await done(who.send('POST', '/api/titles', { name, ...sides }), 201)) as { id: string };
  await open(stranger, 'Eigenes', { publisher: service.strangerParty, printer: eva.person.party });
  const sides = { publisher: ids.publisherParty, printer: ids.printerParty };
  const laterTitle = await open(printer, 'Noch ein Winterbuch', sides);
  const me = (await printer.get('/api/me')).json as { person: { id: string } };
  const token = (await done(printer.send('POST', '/api/tokens', { label: 'x' }), 201)) as { id: string };
  const told = { kind: 'revision', name: 'a', remark: '', replaces: null, sha256: null } as const;
  const at = Date.UTC(2031, 2, 2, 9);
  const upload = await catalogue.uploads.begin({ personId: me.person.id, partId: ids.part, told, bytes: 1, at });
  return {
    titleId: ids.title,
    laterTitleId: laterTitle.id,
    partId: ids.part,
    fileId: input.id,
    dummyId: dummy.id,
    reportId: report.id,
    findingId: finding.id,
    uploadId: upload.id,
    tokenId: token.id,
    personId: me.person.id,
    partyId: ids.publisherParty,
    statementId: '0'.repeat(64),
    kind: 'not-found',
    name: 'Buch.pdf',
    pageNumber: '1',
    mark: 'f1',
    side: 'dummy',
    index: '1',
    size: '1',
  };
}
