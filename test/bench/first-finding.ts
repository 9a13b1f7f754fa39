/**
 * `npm run bench:first`: how long after the last byte of a final the first finding stands on the screen of somebody who
 * watches, in a real Chromium. The final has 32 pages of 300 ppi in four inks and a fault on page 1; its part and its
 * dummy are new each time to a service that knows nothing of their pages, the dummy read and drawn before. Medians of five; `--runs N`.
 */
import { existsSync, readdirSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { setTimeout as after } from 'node:timers/promises';
import { parseArgs } from 'node:util';
import { chromium } from 'playwright-core';
import type { Page } from 'playwright-core';
import { benchBook, finalWithFault, freshCopy, megabytes } from './bench-book.ts';
import { putFile, serveForBench } from './served.ts';
import type { Served } from './served.ts';
import { median, tellMachine, tellTargets } from './telling.ts';

const { values } = parseArgs({ options: { runs: { type: 'string', default: '5' } } });
const runs = Number(values.runs);
const PAGES = 32;
/** For the browser to come to rest. */
const SETTLE_MS = 1000;

/** Milliseconds since 1970 at which the page first shows a text, noted by the page itself. */
function noteWhenShown(page: Page, text: string): Promise<number> {
  return page.evaluate(
    (wanted) =>
      new Promise<number>((done) => {
        const isThere = (): boolean => document.body.innerText.includes(wanted);
        const look = (): void => {
          // what is in the document is seen with the next frame
          if (isThere()) requestAnimationFrame(() => setTimeout(() => done(Date.now())));
          else setTimeout(look, 5);
        };
        look();
      }),
    text,
  );
}

/** Pages whose facts are kept. */
function drawnPages(served: Served): number {
  const folder = join(served.folder, 'facts');
  return existsSync(folder) ? readdirSync(folder).filter((name) => name.startsWith('drawn-')).length : 0;
}

const { dummy } = await benchBook();
const final = await finalWithFault();
tellMachine();
console.log(`dummy ${megabytes(dummy)}, final ${megabytes(final)}, ${availableParallelism()} workers, ${runs} runs`);
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM_PATH ?? '/usr/bin/chromium',
  args: ['--no-sandbox'],
});
const seconds: Record<'counted' | 'told', number[]> = { counted: [], told: [] };
/** One final sent to a service of its own: facts of pages are kept by what the pages are made of, also across titles. */
async function measure(run: number): Promise<void> {
  const served = await serveForBench();
  try {
    const { origin, sender } = served;
    const context = await browser.newContext({ baseURL: origin });
    const [name = '', value = ''] = sender.cookie.split('=');
    await context.addCookies([{ name, value, url: origin }]);
    const { title, part } = await served.newPart();
    await putFile(served, part, 'dummy', freshCopy(dummy, run));
    await served.quiet();
    const page = await context.newPage();
    await page.goto(`/titles/${title}/parts/${part}`);
    await page.getByText('Dummy', { exact: true }).waitFor();
    while (drawnPages(served) < PAGES) await after(SETTLE_MS / 10);
    await after(SETTLE_MS);
    const counting = noteWhenShown(page, 'so far');
    const sent = await putFile(served, part, 'revision', freshCopy(final, run));
    const cpuBefore = served.cpuS().all;
    const inPart = await counting;
    const cpuS = served.cpuS().all - cpuBefore;
    await page.getByRole('link', { name: 'Revision 1' }).click();
    const told = await noteWhenShown(page, 'Page 1:');
    await noteWhenShown(page, 'It differs from the dummy');
    const since = (ms: number): number => (ms - sent.lastByteMs) / 1000;
    seconds.counted.push(since(inPart));
    seconds.told.push(since(told));
    console.log(
      `run ${run + 1}: answered ${since(sent.answeredMs).toFixed(2)} s, counted ${since(inPart).toFixed(2)} s, ` +
        `told ${since(told).toFixed(2)} s, all compared ${since(Date.now()).toFixed(2)} s after the last byte; ` +
        `processor time of the service up to the first ${cpuS.toFixed(2)} s`,
    );
    await served.quiet();
    await context.close();
  } finally {
    await served.end();
  }
}

try {
  for (let run = 0; run < runs; run++) await measure(run);
} finally {
  await browser.close();
}
const reached = tellTargets([
  { name: 'first finding on the screen after the last byte', value: median(seconds.counted), most: 2, unit: ' s' },
]);
console.log(`its words, one click further: ${median(seconds.told).toFixed(2)} s`);
process.exitCode = reached ? 0 : 1;
