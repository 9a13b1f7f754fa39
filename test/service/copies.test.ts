import { createHash } from 'node:crypto';
import { readdirSync } from 'node:fs';
import { PDFDocument } from '@cantoo/pdf-lib';
import { afterAll, expect, test, vi } from 'vitest';
import { scratchFolder } from '../archive/scratch.ts';
import { done, peopledService } from './peopled-service.ts';

const service = await peopledService();
const { printer, ids } = service;
const PAGES = 40;
afterAll(() => vi.unstubAllEnvs());

/** A book of many pages that was sent, and read. */
async function sentBook(): Promise<string> {
  const book = await PDFDocument.create();
  for (let page = 0; page < PAGES; page += 1) book.addPage([300, 400]);
  const bytes = Buffer.from(await book.save());
  const hash = createHash('sha256').update(bytes).digest();
  const digest = { 'Content-Digest': `sha-256=:${hash.toString('base64')}:` };
  const sent = await done(
    printer.send('PUT', `/api/parts/${ids.part}/files/Buch.pdf?kind=revision`, bytes, digest),
    201,
  );
  const pages = Array.from({ length: PAGES }, (_, index) => {
    const contentHash = createHash('sha256').update(`${index}`).digest('hex');
    return { pageNumber: index + 1, contentHash, widthMm: 100, heightMm: 120 };
  });
  await service.archive.catalogue.pages.add({ sha256: hash.toString('hex'), pages, at: 1 });
  return (sent as { id: string }).id;
}

test('while a copy of a long book is made, others are answered', async () => {
  const path = `/api/files/${await sentBook()}/print-copy`;
  const beside = scratchFolder();
  vi.stubEnv('TMPDIR', beside);
  const begun = performance.now();
  let isMade = false;
  const making = fetch(`${service.origin}${path}`, { headers: { Cookie: printer.cookie } }).then(async (answer) => {
    isMade = true;
    return { status: answer.status, bytes: Buffer.from(await answer.arrayBuffer()) };
  });
  let longest = 0;
  while (!isMade) {
    const asked = performance.now();
    expect((await printer.get('/api/me')).status).toBe(200);
    longest = Math.max(longest, performance.now() - asked);
  }
  const { status, bytes } = await making;
  const whole = performance.now() - begun;
  expect(status).toBe(200);
  expect((await PDFDocument.load(bytes)).getPageCount()).toBeGreaterThan(PAGES);
  // Made in the service itself, one request waits for nearly all of it.
  expect(longest).toBeLessThan(whole / 2);
  await expect.poll(() => readdirSync(beside), { timeout: 20_000 }).toEqual([]);
});
