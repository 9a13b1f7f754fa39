import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { scratchFolder } from '../../archive/scratch.ts';
import type { SmallPage } from '../../archive/small-book.ts';
import type { Caller } from '../../service/caller.ts';
import { peopledService, type PeopledService } from '../../service/peopled-service.ts';
import { personAt } from '../person.ts';
import { sendBook } from '../send-book.ts';

/** The clock of the service in these tests, and so of its visitors. */
const MORNING = Date.UTC(2031, 2, 2, 9);

/** Somebody at a desk of their own, and where their key lies once they have one. */
export interface DeskOfOne {
  readonly page: Page;
  readonly asks: Caller & { readonly cookie: string };
  readonly name: string;
  readonly passphrase: string;
  keyFile: string;
}

/** A service over which two people sit: the printer's foreman and the publisher's editor. */
export interface TwoDesks extends PeopledService {
  readonly ada: DeskOfOne;
  readonly bruno: DeskOfOne;
  /** Sends a book as a file and waits until the service has done so much with it. */
  send(pages: readonly SmallPage[], kind: string, until: 'read' | 'pictures', told?: SentAs): Promise<string>;
}

/** What is told with a file. */
export interface SentAs {
  readonly name?: string;
  readonly remark?: string;
}

/** Seats them. */
export async function twoDesks(): Promise<TwoDesks> {
  const service = await peopledService({ WITNESSLEAF_WORKERS: '1' }, true);
  const seat = async (asks: Caller & { cookie: string }, name: string): Promise<DeskOfOne> => {
    const { page, context } = await personAt(service.origin, asks.cookie);
    page.setDefaultTimeout(20_000);
    await context.clock.setFixedTime(MORNING);
    return { page, asks, name, passphrase: `${name}, sieben Möwen`, keyFile: '' };
  };
  return {
    ...service,
    ada: await seat(service.printer, 'Ada Weiher'),
    bruno: await seat(service.publisher, 'Bruno Kai'),
    send: (pages, kind, until, told = {}) => sendBook(service, { part: service.ids.part, pages, kind, until, ...told }),
  };
}

/** Makes a key in the browser (where one `isThere`, on the page that is open), saves its file, and makes the certificate known. */
export async function makeKey(desk: DeskOfOne, { isThere = false } = {}): Promise<void> {
  const { page, passphrase } = desk;
  if (!isThere) await page.goto('/keys');
  await page.getByLabel('A passphrase for the file').fill(passphrase);
  await page.getByLabel('The same passphrase again').fill(passphrase);
  await page.getByRole('button', { name: 'Make the key' }).click();
  const saving = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save the key file' }).click();
  const saved = await saving;
  desk.keyFile = join(scratchFolder(), saved.suggestedFilename());
  await saved.saveAs(desk.keyFile);
  await page.getByRole('button', { name: 'Make the certificate known' }).click();
  await page.getByText('The certificate is known.').waitFor();
}

/** Opens one's key wherever a sheet asks for it. */
export async function openKey({ page, keyFile, passphrase }: DeskOfOne, typed = passphrase): Promise<void> {
  await page.getByLabel('Your key file').setInputFiles(keyFile);
  await page.getByLabel('Its passphrase', { exact: true }).fill(typed);
  await page.getByRole('button', { name: 'Open the key' }).click();
}

/** Reads what will be signed; opens the key where it is not open. */
export async function readSheet(desk: DeskOfOne, sheet = desk.page.getByRole('main')): Promise<void> {
  const reads = sheet.getByRole('button', { name: 'Read what will be signed' });
  const opens = sheet.getByRole('button', { name: 'Open the key' });
  await reads.or(opens).first().waitFor();
  if (await opens.isVisible()) await openKey(desk);
  await reads.click();
  await sheet.getByRole('group', { name: 'The statement in full' }).waitFor();
}

/**
 * Reads what will be signed, signs it, and sees that it was taken and verifies; opens the key where it is not open.
 *
 * @param sheet  where on the page that is done, where several things can be
 */
export async function signSheet(desk: DeskOfOne, deed: string, sheet = desk.page.getByRole('main')): Promise<void> {
  await readSheet(desk, sheet);
  await sheet.getByRole('button', { name: deed, exact: true }).click();
  await sheet.getByText('Signed, and taken as entry').first().waitFor();
}

/** Rulings that were read are signed on several desks, and none goes out before all are signed. */
export async function signAtOnce(desks: readonly DeskOfOne[]): Promise<void> {
  const sent = '**/api/titles/*/statements';
  let open: () => void = () => undefined;
  const gate = new Promise<void>((opened) => (open = opened));
  let waiting = 0;
  for (const { page } of desks) {
    await page.route(sent, async (route) => {
      if (route.request().method() !== 'POST') return route.continue();
      waiting += 1;
      if (waiting === desks.length) open();
      await gate;
      return route.continue();
    });
  }
  await Promise.all(
    desks.map(({ page }) => page.getByRole('button', { name: 'Sign the ruling', exact: true }).click()),
  );
  await gate;
  for (const { page } of desks) await page.unroute(sent);
}

/** The same person with the same key at a browser of another machine. */
export async function anotherDesk(desk: DeskOfOne): Promise<DeskOfOne> {
  const { page, context } = await personAt(new URL(desk.page.url()).origin, desk.asks.cookie);
  page.setDefaultTimeout(20_000);
  await context.clock.setFixedTime(MORNING);
  await page.goto(desk.page.url());
  return { ...desk, page };
}
