import { createServer } from 'node:http';
import type { IncomingMessage, Server, ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, expect, test } from 'vitest';
import { PROBLEMS } from '../../../src/service/index.ts';
import { PROBLEM_KINDS } from '../../../web/call/answers.ts';
import { call, readAll, renewBy } from '../../../web/call/call.ts';
import type { Trouble } from '../../../web/call/trouble.ts';
import { english } from '../../../web/words/english/index.ts';

const open: Server[] = [];
afterEach(() => open.splice(0).forEach((server) => server.close()));

/** An address where this answers. */
async function at(answer: (request: IncomingMessage, response: ServerResponse) => void): Promise<string> {
  const server = createServer(answer);
  open.push(server);
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
}

function problem(response: ServerResponse, status: number, type: string): void {
  response.writeHead(status, { 'Content-Type': 'application/problem+json' });
  response.end(JSON.stringify({ type: `/api/problems/${type}`, detail: 'in words', limit: 7 }));
}

const troubleOf = async (calling: Promise<unknown>): Promise<Trouble> =>
  calling.then(
    () => Promise.reject(new Error('it was answered')),
    (error: unknown) => error as Trouble,
  );

test('the pages know every kind of problem that the service has, and what to say of each', () => {
  expect([...PROBLEM_KINDS].sort()).toEqual(Object.keys(PROBLEMS).sort());
  for (const kind of [...PROBLEM_KINDS, 'unreachable'] as const) {
    const { happened, safe, next } = english.trouble[kind];
    expect([happened, safe, next].map((text) => text.length > 5)).toEqual([true, true, true]);
  }
});

test('a problem is told by its kind, its words and its members', async () => {
  const origin = await at((_request, response) => problem(response, 413, 'too-large'));
  expect(await troubleOf(call('GET', origin))).toMatchObject({
    ...{ kind: 'too-large', message: 'in words', status: 413, members: { limit: 7 } },
  });
});

test('a service that is not there is unreachable, and an answer that is no problem is a fault', async () => {
  const origin = await at((_request, response) => response.writeHead(502).end('<h1>Bad gateway</h1>'));
  expect(await troubleOf(call('GET', origin))).toMatchObject({ kind: 'fault', status: 502 });
  open.splice(0).forEach((server) => server.close());
  expect(await troubleOf(call('GET', origin))).toMatchObject({ kind: 'unreachable', status: 0 });
});

test('a call whose session ran out waits until there is one again, and is made once more as it was', async () => {
  const heard: string[] = [];
  let isIn = false;
  const origin = await at((request, response) => {
    let body = '';
    request.on('data', (piece: Buffer) => (body += piece.toString()));
    request.on('end', () => {
      heard.push(`${request.method} ${body} ${request.headers['if-match']}`);
      if (isIn) response.writeHead(200, { 'Content-Type': 'application/json', ETag: '"b"' }).end('{"is":"kept"}');
      else problem(response, 401, 'unidentified');
    });
  });
  let asked = 0;
  renewBy(async () => {
    asked += 1;
    return (isIn = true);
  });
  const sent = { body: { remark: 'typed for an hour' }, ifMatch: '"a"' };
  expect(await call('PUT', origin, sent)).toEqual({ value: { is: 'kept' }, etag: '"b"' });
  const as = 'PUT {"remark":"typed for an hour"} "a"';
  expect([heard, asked]).toEqual([[as, as], 1]);
  isIn = false;
  expect(await troubleOf(call('PUT', origin, { ...sent, isRenewing: false }))).toMatchObject({ kind: 'unidentified' });
  renewBy(async () => false);
  expect(await troubleOf(call('PUT', origin, sent))).toMatchObject({ kind: 'unidentified' });
  expect(asked).toBe(1);
});

test('a list that comes in pieces is read to its end', async () => {
  const asked: string[] = [];
  const origin = await at((request, response) => {
    asked.push(request.url ?? '');
    const next = asked.length < 3 ? `n&${asked.length}` : null;
    response.writeHead(200, { 'Content-Type': 'application/json' });
    response.end(JSON.stringify({ items: [asked.length], next }));
  });
  expect(await readAll(`${origin}/list?state=open`)).toEqual([1, 2, 3]);
  expect(asked).toEqual(['', '&after=n%261', '&after=n%262'].map((after) => `/list?state=open&most=200${after}`));
});
