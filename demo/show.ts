/**
 * `npm run pictures`: makes the pictures of README.md from the demonstration book, by a browser at a service of its own:
 * the book against its dummy, a page looked at closely, findings to be decided. They are left in `demo/shown/`.
 */
import { mkdirSync, rmSync } from 'node:fs';
import { basename, join } from 'node:path';
import { chromium, type Page } from 'playwright-core';
import sharp from 'sharp';
import { WHOLE } from './book/make.ts';
import { makeBook, type BookName } from './story/books.ts';
import { TITLE } from './story/cast.ts';
import { serveArchive } from './story/served.ts';

const FOLDER = join(import.meta.dirname, '..', '.out', 'demo');
const SHOWN = join(import.meta.dirname, 'shown');
const CHROMIUM = process.env.CHROMIUM_PATH ?? '/usr/bin/chromium';
const SIZE = { width: 1280, height: 860 };
/** Small enough for a README, and read without effort. */
const WIDTH = 1100;
const QUALITY = 72;

rmSync(join(FOLDER, 'shown'), { recursive: true, force: true });
mkdirSync(SHOWN, { recursive: true });
const books: Partial<Record<BookName, string>> = {};
for (const name of ['dummy', 'disordered', 'slipped'] as const) {
  books[name] = (await makeBook(name, FOLDER, WHOLE)).path;
}
const served = await serveArchive(join(FOLDER, 'shown'), join(FOLDER, 'shown.log'), '0');
const browser = await chromium.launch({ executablePath: CHROMIUM, args: ['--no-sandbox'] });
try {
  const page = await browser.newPage({ viewport: SIZE, baseURL: served.origin, locale: 'en-GB' });
  page.setDefaultTimeout(300_000);
  const part = await openTitle(page, served.firstLink);
  await send(page, part, 'dummy', 'To the signing');
  const files: Partial<Record<BookName, string>> = {};
  for (const name of ['disordered', 'slipped'] as const) {
    files[name] = await send(page, part, name, 'It differs from the dummy');
  }
  await page.goto(`${files.disordered ?? ''}/book`);
  await page.locator('.move-lines circle').last().scrollIntoViewIfNeeded();
  await shoot(page, 'book');
  await page.goto(`${files.slipped ?? ''}/findings/${await slippedCrop(page, files.slipped ?? '')}`);
  await page.getByRole('link', { name: 'Look closely at the page' }).click();
  await page.getByLabel('Windows of the pictures').check();
  await page.locator('.window-line').first().waitFor({ state: 'attached' });
  await page.evaluate(() => document.querySelector('.look-controls')?.scrollIntoView({ behavior: 'instant' }));
  await shoot(page, 'look');
  await page.goto(`${files.slipped ?? ''}/findings`);
  await page.locator('.exhibits img').first().waitFor();
  await shoot(page, 'findings');
} finally {
  await browser.close();
  await served.stop();
}

/** The first account, both sides, a title and its book block. @returns the part's address */
async function openTitle(page: Page, firstLink: string): Promise<string> {
  await page.goto(firstLink);
  await page.getByLabel('Your publishing house').fill('Offizin Weiher');
  await page.getByLabel('Your name').fill('Ada Weiher');
  await page.getByLabel('Your sign-in name').fill('ada');
  await page.getByLabel('Password').fill('ein Blatt bleibt stehen');
  await page.getByRole('button', { name: 'Make the account' }).click();
  await page.getByRole('heading', { name: 'No title yet' }).waitFor();
  await page.goto('/people');
  await page.getByRole('button', { name: 'Bring a party in' }).click();
  await page.getByLabel('Name of the party').fill('Verlag am Kai');
  await page.getByLabel('Its first person').fill('Bruno Kai');
  await page.getByRole('button', { name: 'Bring it in' }).click();
  await page.getByLabel('Link').waitFor();
  await page.goto('/titles/new');
  await page.getByLabel('Name of the title').fill(TITLE);
  await page.getByRole('button', { name: 'Open the title' }).click();
  await page.getByRole('button', { name: 'New part' }).click();
  await page.getByRole('button', { name: 'Open the part' }).click();
  await page.getByRole('heading', { name: 'No file yet' }).waitFor();
  return page.url();
}

/** Sends a book and waits until it is told what came of it. @returns the file's address */
async function send(page: Page, part: string, name: BookName, until: string): Promise<string> {
  await page.goto(part);
  const path = books[name] ?? '';
  await page.locator('input[type=file]').first().setInputFiles(path);
  await page.getByRole('button', { name: 'Send the file' }).click();
  await page
    .getByRole('article')
    .filter({ hasText: basename(path) })
    .getByRole('link')
    .first()
    .click();
  await page.getByText(until).waitFor();
  return page.url();
}

/** The finding of the picture whose crop slipped. */
async function slippedCrop(page: Page, file: string): Promise<string> {
  const answer = await page.request.get(`/api/files/${file.split('/').at(-1) ?? ''}/findings?most=200`);
  const { items } = (await answer.json()) as { items: { id: string; finding: { kind: string } }[] };
  return items.find(({ finding }) => finding.kind === 'crop-altered')?.id ?? '';
}

/** When every picture in it is there. */
async function shoot(page: Page, name: string): Promise<void> {
  await page.waitForFunction(() =>
    [...document.images]
      .filter((one) => one.getBoundingClientRect().top < window.innerHeight)
      .every((one) => one.complete && one.naturalWidth > 0),
  );
  const seen = await page.screenshot();
  await sharp(seen)
    .resize(WIDTH)
    .webp({ quality: QUALITY })
    .toFile(join(SHOWN, `${name}.webp`));
  console.log(`demo/shown/${name}.webp`);
}
