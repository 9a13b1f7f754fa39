import { createHash } from 'node:crypto';
import { expect, test } from 'vitest';
import type { Caller } from './caller.ts';
import { done, peopledService } from './peopled-service.ts';

const service = await peopledService();
const { printer, publisher, guest, stranger, looker, sender, idle, ids } = service;

interface Desk {
  readonly items: readonly {
    readonly name: string;
    readonly parts: readonly { readonly stage: string; readonly waits: readonly unknown[] }[];
  }[];
}
const deskOf = async (who: Caller): Promise<Desk> => (await who.get('/api/desk')).json as Desk;

test('a desk has the titles that one sees, each part’s stage, and what one may do about it', async () => {
  expect(await deskOf(printer)).toMatchObject({
    items: [{ name: 'Ein Winterbuch', parts: [{ id: ids.part, stage: 'empty', file: null, open: 0, waits: [] }] }],
  });
  const bytes = new TextEncoder().encode('not read yet');
  const digest = `sha-256=:${createHash('sha256').update(bytes).digest('base64')}:`;
  const path = `/api/parts/${ids.part}/files/dummy.pdf?kind=dummy`;
  const dummy = (await done(printer.send('PUT', path, bytes, { 'Content-Digest': digest }), 201)) as { id: string };
  const toSign = [{ what: 'dummy-to-sign', file: dummy.id, findings: 0 }];
  const waiting = async (who: Caller) =>
    (await deskOf(who)).items.flatMap(({ parts }) => parts.map((one) => one.waits));
  // What is still being read cannot be signed yet.
  expect(await waiting(publisher)).toEqual([[]]);
  const { jobs } = service.archive.catalogue;
  const at = Date.UTC(2031, 2, 2, 10);
  const lease = await jobs.claim({ owner: 'test', at, leaseMs: 1 });
  expect(await jobs.finish(lease!, { at, result: null })).toBe(true);
  expect(await waiting(printer)).toEqual([toSign]);
  expect(await waiting(publisher)).toEqual([toSign]);
  // Who may not sign, or only looks on, is not asked to.
  for (const who of [looker, sender, guest]) expect(await waiting(who)).toEqual([[]]);
  for (const who of [stranger, idle]) expect(await deskOf(who)).toEqual({ items: [], next: null });
});

test('the archive tells how much room it has and what is still to be done', async () => {
  const told = (await guest.get('/api/archive')).json as { disk: { freeBytes: number; totalBytes: number } };
  expect(told).toMatchObject({ jobs: { waiting: 0, running: 0 }, timeStamps: false, uploadBytes: 4096 * 2 ** 20 });
  expect(told.disk.freeBytes).toBeGreaterThan(0);
  expect(told.disk.totalBytes).toBeGreaterThan(told.disk.freeBytes);
});

test('a party sees which of its people have come in', async () => {
  await done(publisher.send('POST', '/api/people', { name: 'Nora', rights: ['look'] }), 201);
  const people = (await publisher.get('/api/people')).json as { items: { name: string; hasAccount: boolean }[] };
  expect(people.items.map(({ name, hasAccount }) => [name, hasAccount])).toEqual([
    ['Bruno Kai', true],
    ['Ivo', true],
    ['Lena', true],
    ['Nora', false],
    ['Sven', true],
  ]);
});
