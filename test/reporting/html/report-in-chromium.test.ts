import { createHash } from 'node:crypto';
import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Report } from '../../../src/model/index.ts';
import { formatReport, writeReports } from '../../../src/reporting/index.ts';
import { drawSamplePage, MATCHING_REPORT, SAMPLE_REPORT } from '../sample-book.ts';
import { hasChromium, startChromium } from './chromium.ts';

const HOSTILE = '"><img src=x onerror=alert(1)>\u202Efdp.pdf';
const names = { dummy: 'signed <dummy>.pdf', revision: HOSTILE };
const AXE = createRequire(import.meta.url).resolve('axe-core/axe.min.js');

let desk = '';
let browser: Browser;

async function write(report: Report, name: string): Promise<string> {
  const folder = join(desk, name);
  await writeReports({ report, names, drawPage: drawSamplePage }, { htmlFolder: folder, pairsAtOnce: 2 });
  return folder;
}

/** Everything a folder holds, by name, as hashes. */
async function hashesIn(folder: string): Promise<Readonly<Record<string, string>>> {
  const files = (await readdir(folder, { recursive: true, withFileTypes: true })).filter((entry) => entry.isFile());
  const hashes = files.map(async ({ parentPath, name }) => {
    const bytes = await readFile(join(parentPath, name));
    return [name, createHash('sha256').update(bytes).digest('hex')] as const;
  });
  return Object.fromEntries((await Promise.all(hashes)).sort(([one], [other]) => (one < other ? -1 : 1)));
}

interface Opened {
  readonly page: Page;
  /** Whatever the browser complained of, and every address it asked for outside the folder. */
  readonly complaints: readonly string[];
}

async function open(folder: string, options: BrowserContextOptions = {}): Promise<Opened> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('console', (message) => complaints.push(message.text()));
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('requestfailed', (request) => complaints.push(`failed: ${request.url()}`));
  page.on('request', (request) => {
    if (!request.url().startsWith(pathToFileURL(folder).href)) complaints.push(`outside: ${request.url()}`);
  });
  await page.goto(pathToFileURL(join(folder, 'index.html')).href);
  return { page, complaints };
}

describe.skipIf(!hasChromium())('the report in a browser, opened from its folder', () => {
  let sample = '';
  beforeAll(async () => {
    desk = await mkdtemp(join(tmpdir(), 'html-report-'));
    [browser, sample] = await Promise.all([startChromium(), write(SAMPLE_REPORT, 'sample')]);
  });
  afterAll(async () => {
    await browser.close();
    await rm(desk, { recursive: true });
  });

  it('loads every picture, asks for nothing outside the folder, and gives the browser nothing to complain of', async () => {
    const { page, complaints } = await open(sample);
    const pictures = await page.evaluate(async () => {
      const images = [...document.images];
      for (const image of images) image.loading = 'eager';
      await Promise.all(images.map((image) => image.decode()));
      return images.map((image) => image.naturalWidth > 0 && image.alt.length > 0);
    });
    expect(pictures.length).toBeGreaterThan(80);
    expect(pictures.every((isFine) => isFine)).toBe(true);
    expect(complaints).toEqual([]);
  });

  it('shows a hostile file name as a name', async () => {
    const { page } = await open(sample);
    expect(await page.getByRole('heading', { level: 1 }).innerText()).toContain(
      '"><img src=x onerror=alert(1)>[U+202E]fdp.pdf',
    );
    expect(await page.locator('img[src="x"]').count()).toBe(0);
  });

  it('says the verdict, and each finding with its sentence in page order', async () => {
    const { page } = await open(sample);
    await page.getByText('The revision differs from the dummy: 16 findings stop the plates, 5 want a look').waitFor();
    const headings = await page.getByRole('article').getByRole('heading').allInnerTexts();
    expect(headings).toHaveLength(22);
    expect(headings.slice(0, 3)).toEqual([
      'Picture too coarse the whole file',
      'Page size changed page 1',
      'Picture missing page 2',
    ]);
    for (const { says } of SAMPLE_REPORT.findings) {
      expect(await page.getByText(says.replaceAll(/(\d) (?=mm|ppi)/g, '$1\u00a0')).count(), says).toBeGreaterThan(0);
    }
  });

  it('leads from finding to finding by keyboard, with the focus on each and seen', async () => {
    const { page } = await open(sample);
    const focused = () => page.evaluate(() => document.activeElement?.id);
    for (const key of ['j', 'j', 'ArrowRight']) await page.keyboard.press(key);
    expect(await focused()).toBe('finding-3');
    for (const key of ['k', 'ArrowLeft', 'k']) await page.keyboard.press(key);
    expect(await focused()).toBe('finding-1');
    expect(await page.locator('#finding-1').evaluate((article) => article.getBoundingClientRect().top < 200)).toBe(
      true,
    );
    const number = page.locator('#finding-1 .number');
    expect(await number.evaluate((element) => getComputedStyle(element).outlineStyle)).toBe('solid');
  });

  it('leaves the keys alone where the reader wants them back', async () => {
    const { page } = await open(sample);
    await page.getByLabel('Keys:').uncheck();
    await page.keyboard.press('j');
    expect(await page.evaluate(() => document.activeElement?.closest('article'))).toBeNull();
  });

  it('fades from the dummy to the revision', async () => {
    const { page } = await open(sample);
    const crop = page.locator('#finding-4');
    const upper = crop.locator('.upper');
    const slider = crop.getByRole('slider', { name: 'Fade from the dummy to the revision' });
    const opacity = () => upper.evaluate((element) => getComputedStyle(element).opacity);
    expect(await opacity()).toBe('0.5');
    await slider.focus();
    await page.keyboard.press('Home');
    expect([await opacity(), await slider.getAttribute('aria-valuetext')]).toEqual(['0', '0 % revision']);
    await page.keyboard.press('End');
    expect(await opacity()).toBe('1');
    await page.keyboard.press('ArrowLeft');
    expect([await opacity(), await page.evaluate(() => document.activeElement?.tagName)]).toEqual(['0.99', 'INPUT']);
  });

  it('alternates both sides while a key or the button is held, and rests when it is let go', async () => {
    const { page } = await open(sample);
    await page.locator('#finding-4').focus();
    const upper = page.locator('#finding-4 .upper');
    const element = await upper.elementHandle();
    const isAt = (opacity: string) =>
      page.waitForFunction(
        ([over, wanted]) => over instanceof HTMLElement && getComputedStyle(over).opacity === wanted,
        [element, opacity] as const,
      );
    await page.keyboard.down('f');
    await isAt('0');
    await isAt('1');
    await isAt('0');
    await page.keyboard.up('f');
    await isAt('0.5');
    const button = page.locator('#finding-4').getByRole('button', { name: 'Hold to alternate' });
    await button.hover();
    await page.mouse.down();
    await isAt('0');
    await page.mouse.up();
    await isAt('0.5');
  });

  it('reads without scripts: both sides, the difference and the figures are there, the fading is not', async () => {
    const { page, complaints } = await open(sample, { javaScriptEnabled: false });
    const crop = page.locator('#finding-4');
    expect(await crop.getByText('2.4\u00a0mm to the left, 0.40\u00a0mm down').isVisible()).toBe(true);
    expect(await crop.locator('.shot:visible').count()).toBe(3);
    expect(await crop.getByRole('slider').isVisible()).toBe(false);
    expect(complaints).toEqual([]);
  });

  it.each([320, 390, 1280])('needs no sideways scrolling at a width of %d', async (width) => {
    const { page } = await open(sample, { viewport: { width, height: 800 } });
    const [page_, window_] = await page.evaluate(() => [document.documentElement.scrollWidth, window.innerWidth]);
    expect(page_).toBeLessThanOrEqual(window_ ?? 0);
  });

  it.each(['light', 'dark'] as const)('has nothing for axe to find fault with, in %s', async (colorScheme) => {
    const { page } = await open(sample, { colorScheme, bypassCSP: true });
    await page.addScriptTag({ path: AXE });
    const faults = await page.evaluate(async () => {
      // The script tag above puts axe on the window.
      const { axe } = window as unknown as {
        axe: { run(options: object): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> };
      };
      const runOnly = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
      const { violations } = await axe.run({ runOnly });
      return violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html ?? ''}`);
    });
    expect(faults).toEqual([]);
  });

  it('shows what lies on the table where nothing was found', async () => {
    const { page, complaints } = await open(await write(MATCHING_REPORT, 'matching'));
    await page.getByText('The revision matches the dummy within the tolerances.').waitFor();
    await page.getByText('Nothing was found. Every page shows what the dummy shows.').waitFor();
    expect(await page.getByRole('link', { name: 'Order of the pages' }).count()).toBe(0);
    expect(complaints).toEqual([]);
  });

  it('holds the report for programs, and the same files for the same report', async () => {
    expect(await readFile(join(sample, 'report.json'), 'utf8')).toBe(formatReport(SAMPLE_REPORT));
    const few = { ...SAMPLE_REPORT, findings: SAMPLE_REPORT.findings.slice(12, 15) };
    const [one, other] = [await write(few, 'one'), await write(few, 'other')];
    const hashes = await hashesIn(one);
    expect(Object.keys(hashes).length).toBeGreaterThan(30);
    expect(await hashesIn(other)).toEqual(hashes);
  });
});
