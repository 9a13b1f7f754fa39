import { readdirSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import express from 'express';
import { afterAll, expect, test } from 'vitest';
import { servePages } from '../../src/service/pages.ts';
import { scratchFolder } from '../archive/scratch.ts';
import { startedService } from './started-service.ts';

const { origin } = await startedService();
const HTML = { Accept: 'text/html,application/xhtml+xml' };
const BUILT = join(import.meta.dirname, '../../.out/web/assets');

const unbuilt = createServer(express().use(servePages(scratchFolder())));
await new Promise<void>((done) => unbuilt.listen(0, '127.0.0.1', done));
afterAll(() => unbuilt.close());

test('a browser gets the pages at every address that no program asks for, and asks for them anew each time', async () => {
  for (const path of ['/', '/titles/x/parts/y', '/sign-in', '/verify']) {
    const heard = await fetch(origin + path, { headers: HTML });
    expect([path, heard.status, heard.headers.get('cache-control')]).toEqual([path, 200, 'no-cache']);
    expect(await heard.text()).toContain('<div id="pages"></div>');
  }
});

test('what is named by its content never changes, and comes from nowhere but here', async () => {
  for (const name of readdirSync(BUILT)) {
    const heard = await fetch(`${origin}/assets/${name}`);
    expect([name, heard.headers.get('cache-control')]).toEqual([name, 'public, max-age=31536000, immutable']);
    await heard.body?.cancel();
  }
  const policy = (await fetch(origin, { headers: HTML })).headers.get('content-security-policy') ?? '';
  expect(policy).toContain("default-src 'none'");
  expect(policy).not.toMatch(/unsafe|https?:|\*/);
});

test('to a program, and at its addresses, a page is no answer', async () => {
  const statusOf = async (path: string, init: RequestInit = {}): Promise<number> =>
    (await fetch(origin + path, init)).status;
  expect(await statusOf('/nowhere')).toBe(404);
  for (const path of ['/api/nowhere', '/health/nowhere', '/metrics/nowhere']) {
    const heard = await fetch(origin + path, { headers: HTML });
    expect([path, heard.status, heard.headers.get('content-type')]).toEqual([path, 404, 'application/problem+json']);
  }
  // Nothing outside of the folder, whatever the address says.
  expect(await statusOf('/assets/..%2f..%2f..%2fpackage.json')).toBe(404);
  expect(await statusOf('/titles', { method: 'POST', headers: { ...HTML, Origin: origin } })).toBe(404);
});

test('where the pages were not built, the service says so and how to build them', async () => {
  const { port } = unbuilt.address() as AddressInfo;
  const heard = await fetch(`http://127.0.0.1:${port}/`, { headers: HTML });
  expect(heard.status).toBe(503);
  expect(await heard.text()).toContain('its pages were not built');
});
