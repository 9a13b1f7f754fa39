import { randomBytes } from 'node:crypto';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { scratchFolder } from '../../archive/scratch.ts';
import { lookAt, personAt } from '../person.ts';
import type { Person } from '../person.ts';
import { desk, newPart } from './desk.ts';

const MIB = 2 ** 20;

function fileOf(name: string, mib: number): string {
  const path = join(scratchFolder(), name);
  writeFileSync(path, randomBytes(mib * MIB));
  return path;
}

/** The line of a page, made as slow as one out in the world, or cut. */
interface Line {
  slow(bytesPerSecond: number): Promise<void>;
  cut(): Promise<void>;
}

async function lineOf({ page, context }: Person): Promise<Line> {
  const session = await context.newCDPSession(page);
  const set = async (offline: boolean, uploadThroughput: number): Promise<void> => {
    const rest = { latency: 0, downloadThroughput: -1, uploadThroughput };
    await session.send('Network.emulateNetworkConditions', { offline, ...rest });
  };
  return { slow: (bytesPerSecond) => set(false, bytesPerSecond), cut: () => set(true, 0) };
}

/** A file on its way. */
export function sending(): void {
  let part = '';
  let files: () => Promise<readonly Readonly<Record<string, unknown>>[]>;
  beforeAll(async () => {
    const { ids, printer } = desk.service;
    const id = await newPart('jacket');
    part = `/titles/${ids.title}/parts/${id}`;
    files = async () => ((await printer.get(`/api/parts/${id}/files`)).json as { items: [] }).items;
  });

  test('several are dropped at once, each with what it is and its remark', async () => {
    const { service } = desk;
    const { page } = await personAt(service.origin, service.printer.cookie);
    await page.goto(part);
    await page.getByRole('heading', { name: 'No file yet' }).waitFor();
    await lookAt(page, 'part-empty');
    const dropped = await page.evaluateHandle(() => {
      const all = new DataTransfer();
      for (const name of ['dummy.pdf', 'plates <img src=x onerror=alert(1)>.pdf']) {
        all.items.add(new File(['not a book'], name, { lastModified: 1 }));
      }
      return all;
    });
    await page.dispatchEvent('main', 'dragover', { dataTransfer: dropped });
    await page.getByText('Let go: the files are looked at').waitFor();
    await page.dispatchEvent('main', 'drop', { dataTransfer: dropped });
    await page.getByLabel('Sent as').nth(1).selectOption('Plates input');
    await page.getByLabel('Remark').nth(1).fill('<script>alert(2)</script> colours of the stock');
    await lookAt(page, 'part-tray');
    await page.getByRole('button', { name: 'Send 2 files' }).click();
    await page.getByText('Arrived').nth(1).waitFor();
    await page.getByRole('link', { name: 'Plates input' }).waitFor();
    await lookAt(page, 'part');
    expect((await files()).map(({ kind, name, remark }) => [kind, name, remark])).toEqual([
      ['dummy', 'dummy.pdf', ''],
      ['plates-input', 'plates <img src=x onerror=alert(1)>.pdf', '<script>alert(2)</script> colours of the stock'],
    ]);
  });

  test('it is paused, loses the line, and after a reload goes on where it stopped', async () => {
    const { service } = desk;
    const person = await personAt(service.origin, service.printer.cookie);
    const { page } = person;
    const line = await lineOf(person);
    const path = fileOf('revision.pdf', 20);
    await page.goto(part);
    await line.slow(4 * MIB);
    await page.locator('input[type=file]').first().setInputFiles(path);
    await page.getByLabel('Pages that it replaces').fill('12 to 13');
    await page.getByText('Please write pages as “12-13, 20”.').waitFor();
    await page.getByLabel('Pages that it replaces').fill('');
    await page.getByRole('button', { name: 'Send the file' }).click();
    const row = page.getByRole('article', { name: 'revision.pdf' });
    await row.getByText(/MB\/s · \d+ s left/).waitFor();
    await row.getByRole('button', { name: 'Pause' }).click();
    await row.getByText('Paused').waitFor();
    await row.getByRole('button', { name: 'Go on' }).click();
    await row.getByText('On its way').waitFor();
    await line.cut();
    await row.getByText('The line is gone; it goes on by itself').waitFor();
    await line.slow(4 * MIB);
    await row.getByText('On its way').waitFor();
    // By now a piece of 8 MiB is safe at the service; it does not come over the line again.
    await page.waitForFunction(() => (document.querySelector('progress')?.value ?? 0) > 9 * 2 ** 20);
    page.on('dialog', (dialog) => void dialog.accept());
    await page.reload();
    await row.getByText('Begun earlier; choose the same file again').waitFor();
    await lookAt(page, 'part-begun-earlier');
    const offsets: number[] = [];
    page.on('request', (request) => {
      if (request.method() === 'PATCH') offsets.push(Number(request.headers()['upload-offset']));
    });
    const other = fileOf('other.pdf', 1);
    await row.locator('input[type=file]').setInputFiles(other);
    await row.getByText('That is not the file that was begun').waitFor();
    await row.locator('input[type=file]').setInputFiles(path);
    await row.getByText('Arrived').waitFor();
    expect(offsets[0]).toBeGreaterThanOrEqual(8 * MIB);
    expect((await files()).at(-1)).toMatchObject({ kind: 'revision', name: 'revision.pdf', revisionNumber: 1 });
  });

  test('a session that runs out on the way is opened again, and the file arrives', async () => {
    const { service } = desk;
    const { page } = await personAt(service.origin, service.printer.cookie);
    await page.goto(part);
    await page.locator('input[type=file]').first().setInputFiles(fileOf('late.pdf', 1));
    await page.getByLabel('Remark').fill('written before the session ran out');
    service.wait(13 * 3_600_000);
    await page.getByRole('button', { name: 'Send the file' }).click();
    await page.getByRole('heading', { name: 'Please sign in again' }).waitFor();
    await lookAt(page, 'session');
    await page.getByLabel('Your sign-in name').fill('ada');
    await page.getByLabel('Password').fill('ein Blatt bleibt stehen');
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByRole('article', { name: 'late.pdf' }).getByText('Arrived').waitFor();
    const { pathname } = new URL(page.url());
    const told = await page.request.get(`/api/parts/${pathname.split('/').at(-1) ?? ''}/files`);
    const { items } = (await told.json()) as { items: { remark: string }[] };
    expect(items.at(-1)?.remark).toBe('written before the session ran out');
  });
}
