import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, expect } from 'vitest';

const PROJECT = join(import.meta.dirname, '../..');
const SHOTS = join(PROJECT, '.out/shots');
const AXE = readFileSync(join(PROJECT, 'node_modules/axe-core/axe.min.js'), 'utf8');
const WCAG = { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] } as const;
/** Of these, the rules whose answer hangs on the light and on the width, not only on what a page is made of. */
const AS_SEEN = {
  type: 'rule',
  values: ['color-contrast', 'link-in-text-block', 'target-size', 'scrollable-region-focusable'],
} as const;

/** The browser of the tests; where there is none, those that need it are skipped. */
const CHROMIUM = process.env.CHROMIUM_PATH ?? '/usr/bin/chromium';

/** Whether there is a browser. */
export const HAS_BROWSER = existsSync(CHROMIUM);
if (!HAS_BROWSER) process.stderr.write('!!! NO CHROMIUM: the tests of the pages are skipped; README.md names it.\n');

/** Widths at which every view is looked at. */
const WIDTHS = { phone: 390, tablet: 820, desk: 1440 } as const;

let launched: Promise<Browser> | null = null;
const faults: string[] = [];
const open: BrowserContext[] = [];

// Whatever a page complains of, in any test: scripts that fail, what the policy of the service forbids.
afterEach(() => {
  expect(faults.splice(0)).toEqual([]);
});

afterAll(async () => {
  for (const context of open.splice(0)) await context.close();
  await (await launched)?.close();
});

/** Somebody at a browser of their own. */
export interface Person {
  readonly page: Page;
  readonly context: BrowserContext;
}

/** Opens a browser of one's own; `cookie` is a session that was opened elsewhere. */
export async function personAt(origin: string, cookie = '', width: number = WIDTHS.desk): Promise<Person> {
  launched ??= chromium.launch({ executablePath: CHROMIUM, args: ['--no-sandbox'] });
  const browser = await launched;
  const context = await browser.newContext({ baseURL: origin, viewport: { width, height: 900 }, locale: 'en-GB' });
  open.push(context);
  const [name, value] = cookie.split('=');
  if (name !== undefined && value !== undefined) await context.addCookies([{ name, value, url: origin }]);
  const page = await context.newPage();
  page.on('pageerror', (error) => faults.push(`script: ${error.message}`));
  page.on('console', (line) => {
    // An answer that is a problem is shown by the page; the browser's own line about it is no fault of the page.
    if (line.type() === 'error' && !line.text().startsWith('Failed to load resource')) faults.push(line.text());
  });
  return { page, context };
}

/** What axe has against a page as it is shown, by WCAG 2.2 AA; in words, so that a failed test says where to look. */
async function complaintsOf(
  page: Page,
  runOnly: { readonly type: 'tag' | 'rule'; readonly values: readonly string[] },
) {
  // The policy of the service lets no script in that is not its own, so it is handed over by the debugger.
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(AXE);
  return page.evaluate(async (only) => {
    const { axe } = window as unknown as { axe: { run(root: Document, options: object): Promise<AxeResult> } };
    const { violations } = await axe.run(document, { runOnly: only, resultTypes: ['violations'] });
    return violations.map(({ id, help, nodes }) => `${id}: ${help}: ${nodes.map(({ html }) => html).join(' | ')}`);
  }, runOnly);
}

/** The elements that are seen, in order. */
function madeOf(page: Page): Promise<string> {
  return page.evaluate(() =>
    [...document.body.querySelectorAll('*')].map((one) => (one.checkVisibility() ? one.tagName : '-')).join(' '),
  );
}

interface AxeResult {
  readonly violations: readonly { id: string; help: string; nodes: readonly { html: string }[] }[];
}

/** So long a view's pictures are waited for before it is photographed. */
const PICTURES_MS = 5000;

/** Whether the pictures that are in sight have come; to be run in the page. */
function areDrawn(): boolean {
  const inSight = (image: HTMLImageElement): boolean => image.getBoundingClientRect().top < window.innerHeight;
  return [...document.images].filter(inSight).every(({ complete, naturalWidth }) => complete && naturalWidth > 0);
}

/**
 * Looks at a view as people do: at every width, in the light and (at the desk) in the dark, for anything that sticks out
 * sideways, and by axe on the phone and, at the desk, in the dark. Its pictures go to `.out/shots/`, for somebody to look at.
 */
export async function lookAt(page: Page, name: string): Promise<void> {
  mkdirSync(SHOTS, { recursive: true });
  // pictures are for people: where nobody can look at them, they only take time
  const shoot = async (as: string): Promise<void> => {
    if (process.env.CI !== undefined) return;
    await page.waitForFunction(areDrawn, null, { timeout: PICTURES_MS }).catch(() => undefined);
    await page.screenshot({ path: join(SHOTS, `${name}-${as}.png`), fullPage: true });
  };
  const found: Record<string, unknown> = {};
  let onPhone = '';
  for (const [device, width] of Object.entries(WIDTHS)) {
    await page.setViewportSize({ width, height: 900 });
    await shoot(device);
    const beyond = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    found[`${device} sticks out by`] = Math.max(0, beyond);
    if (device !== 'phone') continue;
    onPhone = await madeOf(page);
    found['phone complaints'] = await complaintsOf(page, WCAG);
  }
  await page.emulateMedia({ colorScheme: 'dark' });
  await shoot('dark');
  // what a page is made of was judged on the phone; only what is made otherwise here is judged again as a whole
  found['dark complaints'] = await complaintsOf(page, (await madeOf(page)) === onPhone ? AS_SEEN : WCAG);
  await page.emulateMedia({ colorScheme: 'light' });
  const wanted = { 'phone sticks out by': 0, 'tablet sticks out by': 0, 'desk sticks out by': 0 };
  expect({ name, ...found }).toEqual({ name, ...wanted, 'phone complaints': [], 'dark complaints': [] });
}
