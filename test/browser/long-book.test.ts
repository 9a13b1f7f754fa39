import type { Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { peopledService } from '../service/peopled-service.ts';
import type { PeopledService } from '../service/peopled-service.ts';
import { LONG, plantLongBook } from './long-book.ts';
import { HAS_BROWSER, personAt } from './person.ts';

/** What the loop below takes where nothing else runs, in ms. */
const QUIET_MS = 30;

/** Times slower than a quiet machine: figures of a person's patience are held against this one's. */
function slowness(page: Page): Promise<number> {
  return page.evaluate((quiet) => {
    const runs: number[] = [];
    let sum = 0;
    for (let run = 0; run < 5; run++) {
      const from = performance.now();
      for (let step = 0; step < 2e7; step++) sum = (Math.imul(sum, 31) + step) | 0;
      runs.push(performance.now() - from);
    }
    const median = runs.sort((one, other) => one - other)[2] ?? 0;
    return Math.max(1, (median + (sum === 1 ? 1 : 0)) / quiet);
  }, QUIET_MS);
}

/** Gathers every task of the page that holds it up for more than 50 ms, from its first script on. */
async function watchTasks(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const longest = { ms: 0 };
    Object.assign(window, { longest });
    new PerformanceObserver((list) => {
      for (const { duration } of list.getEntries()) longest.ms = Math.max(longest.ms, duration);
    }).observe({ type: 'longtask', buffered: true });
  });
}

/** Thirty windows down the page, as fast as it is drawn, and then to its end. @returns the longest task in ms */
function scrollThrough(page: Page): Promise<number> {
  return page.evaluate(async () => {
    const { longest } = window as unknown as { longest: { ms: number } };
    longest.ms = 0;
    const frame = () => new Promise((drawn) => requestAnimationFrame(drawn));
    const go = async (top: number): Promise<void> => {
      window.scrollTo({ top, behavior: 'instant' });
      await frame();
      await frame();
    };
    for (let down = 0; down < 30; down++) await go(window.scrollY + window.innerHeight);
    // what was not measured yet grows as it comes into sight
    for (let last = 0; last < 4; last++) await go(document.documentElement.scrollHeight);
    await new Promise((later) => setTimeout(later, 100));
    return longest.ms;
  });
}

const nodes = (page: Page): Promise<number> => page.evaluate(() => document.querySelectorAll('*').length);

describe.skipIf(!HAS_BROWSER)(`a book of ${LONG} pages`, () => {
  let service: PeopledService;
  let page: Page;
  let ids: Awaited<ReturnType<typeof plantLongBook>>;
  beforeAll(async () => {
    service = await peopledService();
    ids = await plantLongBook(service);
    ({ page } = await personAt(service.origin, service.printer.cookie));
    await watchTasks(page);
  });
  const at = (file: string, view: string): string => `/titles/${service.ids.title}/files/${file}/${view}`;

  test('shows its first pages within a second of the data, and scrolls without holding anybody up', async () => {
    await page.goto(at(ids.revision, 'book'));
    await page.waitForFunction(() => [...document.images].some((one) => one.naturalWidth > 0));
    const waited = await page.evaluate(() => {
      const ended = (part: string) =>
        (performance.getEntriesByType('resource') as PerformanceResourceTiming[])
          .filter(({ name }) => name.includes(part))
          .map(({ responseEnd }) => responseEnd);
      return Math.min(...ended('/picture?')) - Math.max(...ended('/pages?'), ...ended('/api/reports/'));
    });
    const slow = await slowness(page);
    expect([waited < 1000 * slow, waited]).toEqual([true, waited]);
    const rows = page.getByRole('list', { name: 'Spreads in order' }).getByRole('listitem');
    expect(await rows.first().getAttribute('aria-setsize')).toBe(String(LONG / 2 + 1));
    const longest = await scrollThrough(page);
    await page.getByRole('link', { name: /^Page 320:/ }).waitFor();
    expect([longest < 100 * slow, longest]).toEqual([true, longest]);
    expect(await rows.count()).toBeLessThan(20);
    expect(await nodes(page)).toBeLessThan(1000);
  });

  test('lists its findings page by page, as far as they are looked at', async () => {
    await page.goto(at(ids.revision, 'findings'));
    await page.getByRole('heading', { name: 'Page 1', exact: true }).waitFor();
    const slow = await slowness(page);
    const longest = await scrollThrough(page);
    await page.getByRole('heading', { name: 'Page 320', exact: true }).waitFor();
    expect([longest < 100 * slow, longest]).toEqual([true, longest]);
    expect(await page.getByRole('article').count()).toBeLessThan(20);
    expect(await nodes(page)).toBeLessThan(1000);
    await page.getByRole('button', { name: `Choose all ${LONG} shown` }).click();
    await page.getByText(`${LONG} chosen`).waitFor();
  });

  test('is signed from a strip of which only what is seen is drawn', async () => {
    await page.goto(at(ids.dummy, 'sign'));
    const strip = page.getByRole('region', { name: 'The pages in their order' });
    await strip.getByRole('link', { name: 'Page 1', exact: true }).waitFor();
    expect(await strip.getByRole('listitem').count()).toBeLessThan(30);
    await strip.evaluate((one) => one.scrollTo(one.scrollWidth, 0));
    await strip.getByRole('link', { name: 'Page 320', exact: true }).waitFor();
  });
});
