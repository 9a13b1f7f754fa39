import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { scratchFolder } from '../../archive/scratch.ts';
import { greysOf, screenPlates, writePlate } from '../../archive/sheets/plate-book.ts';
import { smallPlan, writeSheetBook } from '../../archive/sheets/sheet-book.ts';
import { hasTool } from '../../reading/pdf/outside-tool.ts';
import { lookAt, personAt } from '../person.ts';
import { sendFile } from '../send-book.ts';
import { desk, newPart } from './desk.ts';

/** Coarse, so that it is quick: what is found is not looked at here. */
const PPI = 300;
const PAGES = 4;

/** Sheets that come as one plate for each ink. */
export function plates(): void {
  const can = hasTool('gs', 'ghostscript');
  test.skipIf(!can)('several plates go together, are put into sides, and each is told', async () => {
    const { service } = desk;
    const part = await newPart('endpapers', 'plates');
    const { page } = await personAt(service.origin, service.printer.cookie);
    const folder = scratchFolder();
    const bookPath = await writeSheetBook(join(folder, 'book.pdf'), PAGES);
    await sendFile(service, bookPath, { part, kind: 'dummy', until: 'read' });
    const of = await screenPlates(folder, bookPath, smallPlan(PAGES), PPI);
    const { width, height } = await greysOf(join(of, 'demo_1(Black).tif'));
    const spot = Buffer.alloc(width * height, 255);
    for (let y = 1000; y < 1300; y++) spot.fill(80, y * width + 1550, y * width + 1700);
    await writePlate(join(of, 'demo_1(Leuchtrot 4).tif'), { width, height, data: spot }, [0, 0], PPI);

    await page.goto(`/titles/${service.ids.title}/parts/${part}`);
    const files = readdirSync(of).filter((name) => name.includes('('));
    await page
      .locator('input[type=file]')
      .first()
      .setInputFiles(files.map((name) => join(of, name)));
    await page.getByRole('group', { name: /^demo plates\.zip/ }).waitFor();
    expect(await page.getByLabel('Sent as').inputValue()).toBe('plates-input');
    await page.getByRole('button', { name: 'Send the file' }).click();
    await page.getByRole('link', { name: 'See the file' }).click();
    await page.getByRole('link', { name: 'The sheets' }).click({ timeout: 60_000 });

    await page.getByRole('heading', { name: 'The plates' }).waitFor();
    const rows = page.getByRole('group', { name: 'The plates' }).getByRole('row');
    expect(await rows.count()).toBe(1 + files.length);
    expect(await rows.nth(5).innerText()).toMatch(
      /Sheet 1, front\s+Leuchtrot 4 \(spot colour\)\s+demo_1\(Leuchtrot 4\)\.tif/,
    );
    const side = page.getByRole('img', { name: 'Sheet 1, front' });
    await expect.poll(() => side.evaluate((image: HTMLImageElement) => image.naturalWidth)).toBeGreaterThan(640);
    await lookAt(page, 'sheets-of-plates');
    await page.getByRole('link', { name: /^Page 4\b/ }).click();
    await page.getByRole('heading', { name: 'Page 4, closely' }).waitFor();
    await page.getByRole('link', { name: 'On sheet 1' }).click();
    await page.getByRole('heading', { name: 'The plates' }).waitFor();
  });
}
