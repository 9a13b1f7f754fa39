import { expect, test } from 'vitest';
import { openDummiesAhead } from '../../../src/archive/index.ts';
import type { CheckingOrder } from '../../../src/archive/index.ts';
import { openFileDesk } from './file-desk.ts';

const PAGES = ['harbour', 'shingle', 'lantern', 'mountain', 'kitchen'].map((title) => ({
  lines: [`What was seen of the ${title} in winter`, 'and told in the evening.'],
}));

/** The same pool, which notes what is drawn with it. */
function noting(pool: CheckingOrder['pool']) {
  const drawn: string[] = [];
  const run = (job: unknown, options: { readonly timeoutMs: number }): Promise<never> => {
    const { do: what, path, pageNumber } = job as { do: string; path: string; pageNumber: number };
    if (what === 'draw') drawn.push(`${path.slice(-64, -56)} ${pageNumber}`);
    return pool.run(job, options);
  };
  return { pool: { ...pool, run }, drawn };
}

test('the pages of a dummy are drawn before there is a file to hold against them, and not again for that file', async () => {
  const told: string[] = [];
  const desk = await openFileDesk({ onDummyRead: (partId) => told.push(partId) });
  const { archive, order, part } = desk;
  const dummy = await desk.sendPages(PAGES, { kind: 'dummy' });
  await desk.workOff();
  expect(told).toEqual([part.id]);
  const { pool, drawn } = noting(order.pool);
  const ahead = openDummiesAhead(archive, { ...order, pool }, (error) => expect.fail(String(error)));
  ahead.see(part.id);
  ahead.see(part.id);
  await expect.poll(() => drawn.length).toBe(5);
  const ofDummy = PAGES.map((_, index) => `${dummy.sha256.slice(0, 8)} ${index + 1}`);
  await ahead.close();
  expect(drawn).toEqual(ofDummy);

  const { pool: later, drawn: drawnLater } = noting(order.pool);
  const checking = await openFileDesk({ pool: later, factsFolder: order.factsFolder });
  await checking.sendPages(PAGES, { kind: 'dummy' });
  const revision = await checking.sendPages(PAGES.map((page) => ({ ...page, raw: 'q Q' })));
  await checking.workOff();
  expect(drawnLater.toSorted()).toEqual(PAGES.map((_, index) => `${revision.sha256.slice(0, 8)} ${index + 1}`));
});

test('a part without a dummy holds up nobody', async () => {
  const desk = await openFileDesk();
  const { archive, order, part } = desk;
  await desk.sendPages(PAGES, { kind: 'dummy' });
  await desk.workOff();
  const { pool, drawn } = noting(order.pool);
  const ahead = openDummiesAhead(archive, { ...order, pool }, (error) => expect.fail(String(error)));
  ahead.see('0000000000000000');
  ahead.see(part.id);
  await expect.poll(() => drawn.length).toBe(5);
  await ahead.close();
});
