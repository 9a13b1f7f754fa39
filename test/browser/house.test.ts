import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { peopledService } from '../service/peopled-service.ts';
import type { PeopledService } from '../service/peopled-service.ts';
import { HAS_BROWSER, lookAt, personAt } from './person.ts';

interface Entry {
  readonly index: number;
  readonly kind: string;
  readonly leafHash: string;
  readonly bytes: string;
}

describe.skipIf(!HAS_BROWSER)('running it', () => {
  let service: PeopledService;
  beforeAll(async () => {
    service = await peopledService();
  });

  test('the archive shows its key, its head, its clock and its room to anybody who is in', async () => {
    const { page } = await personAt(service.origin, service.guest.cookie);
    const scrub = async (): Promise<unknown> => (await service.guest.get('/api/archive/scrub')).json;
    await page.goto('/running');
    const head = (await service.guest.get('/api/log/head')).json as { verifierKey: string; root: string };
    await page.getByText(head.verifierKey).first().waitFor();
    await page.getByText(head.root).first().waitFor();
    await page.getByText('No authority for time-stamps is configured').waitFor();
    await page.getByText(/ free of /).waitFor();
    await page.getByRole('button', { name: 'Read everything again' }).click();
    const told = page.getByRole('status').filter({ hasText: 'The archive is whole' });
    await told.waitFor();
    await lookAt(page, 'running');
    // What it found, and when, is kept when the service is started again.
    const [said, before] = [await told.innerText(), await scrub()];
    expect(before).toMatchObject({ isRunning: false, found: { isSound: true } });
    await service.restart();
    await page.reload();
    await told.waitFor();
    expect([await told.innerText(), await scrub()]).toEqual([said, before]);
  });

  test('the record is read, narrowed and saved, by keyboard alone', async () => {
    const { page } = await personAt(service.origin, service.publisher.cookie);
    await page.goto(`/titles/${service.ids.title}/record`);
    await page.getByText('3 of 3 entries').waitFor();
    await lookAt(page, 'record');
    await page.getByLabel('Only').focus();
    await page.keyboard.type('Sight');
    await page.getByText('1 of 3 entries').waitFor();
    expect(await page.getByRole('rowheader').allTextContents()).toEqual(['Sight given']);
    await page.getByLabel('With the words').fill('nothing of the kind');
    await page.getByText('No entry fits.').waitFor();
    await page.getByLabel('With the words').fill('');
    await page.getByRole('button', { name: 'Save as a table (CSV)' }).focus();
    const [saved] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Enter')]);
    const lines = readFileSync(await saved.path(), 'utf8').split('\r\n');
    expect([saved.suggestedFilename(), lines.length, lines[0]]).toEqual([
      'Ein Winterbuch.csv',
      3,
      'entry,at,kind,by,person,remark,subjects,leaf hash',
    ]);
    expect(lines[1]).toContain(',sight-given,printer,Ada Weiher,');
    // Both forms say of the entry what the log has of it.
    const { items } = (await service.publisher.get(`/api/titles/${service.ids.title}/log`)).json as { items: Entry[] };
    const entry = items.find(({ kind }) => kind === 'sight-given');
    expect(lines[1]?.split(',').at(-1)).toBe(entry?.leafHash);
    await page.getByRole('button', { name: 'Save as it is kept (JSON)' }).focus();
    const [kept] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Enter')]);
    const said = JSON.parse(readFileSync(await kept.path(), 'utf8')) as unknown;
    const inLog = JSON.parse(Buffer.from(entry?.bytes ?? '', 'base64').toString()) as unknown;
    expect([kept.suggestedFilename(), said]).toEqual([
      'Ein Winterbuch.json',
      [{ index: entry?.index, leafHash: entry?.leafHash, entry: inLog }],
    ]);
  });

  test('sight of a title is given and taken back', async () => {
    const { page } = await personAt(service.origin, service.printer.cookie);
    await page.goto(`/titles/${service.ids.title}/sight`);
    await page.getByLabel('Party').selectOption('Haus Dora');
    await page.getByRole('button', { name: 'Give sight' }).click();
    const dora = page.getByRole('row', { name: /Haus Dora/ });
    await dora.getByText('Looks on').waitFor();
    await lookAt(page, 'sight');
    await dora.getByRole('button', { name: 'Take sight back' }).click();
    await dora.waitFor({ state: 'detached' });
    const seers = (await service.printer.get(`/api/titles/${service.ids.title}/sight`)).json as { items: [] };
    expect(seers.items.length).toBe(3);
  });

  test('a token is shown once and acts for its owner until it is ended', async () => {
    const { page } = await personAt(service.origin, service.sender.cookie);
    await page.goto('/account');
    await page.getByRole('button', { name: 'Make a token' }).click();
    await page.getByLabel('What it is for').fill('the file desk');
    await page.getByRole('dialog').getByRole('button', { name: 'Make a token' }).click();
    const secret = await page.getByRole('textbox', { name: 'the file desk' }).inputValue();
    const asMachine = () =>
      fetch(`${service.origin}/api/me`, { headers: { Authorization: `Bearer ${secret}` } }).then(
        ({ status }) => status,
      );
    expect(await asMachine()).toBe(200);
    await page.keyboard.press('Escape');
    await page.getByRole('cell', { name: 'ended by you' }).waitFor();
    await lookAt(page, 'account');
    await page.getByRole('button', { name: 'End the file desk' }).click();
    await page.getByText('No token yet').waitFor();
    expect(await asMachine()).toBe(401);
  });

  test('rights are changed by who may sign, and somebody without them is told who can help', async () => {
    const { page } = await personAt(service.origin, service.publisher.cookie);
    await page.goto('/people');
    await page.getByRole('button', { name: 'Change rights of Lena' }).click();
    await page.getByLabel('Send files').check();
    await page.getByRole('button', { name: 'Keep these rights' }).click();
    await page.getByRole('row', { name: /Lena/ }).getByText('looks, sends files').waitFor();
    const { page: hers } = await personAt(service.origin, service.looker.cookie);
    await hers.goto('/people');
    await hers.getByText('is decided by those of your party who may sign').waitFor();
    expect(await hers.getByRole('button', { name: /Change rights/ }).count()).toBe(0);
  });

  test('an address that is none says so, and every page can be left by keyboard', async () => {
    const { page } = await personAt(service.origin, service.printer.cookie);
    await page.goto('/nowhere/at/all');
    await page.getByRole('heading', { name: 'Nothing stands here' }).waitFor();
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Skip to the page');
    await page.keyboard.press('Enter');
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('bed');
    await page.getByRole('link', { name: 'To the titles.' }).press('Enter');
    await page.getByRole('heading', { name: 'What waits for you' }).waitFor();
  });
});
