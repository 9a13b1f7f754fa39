import { join } from 'node:path';
import { expect, test } from 'vitest';
import { imposeSheets } from '../../../demo/sheets/impose.ts';
import { scratchFolder } from '../../archive/scratch.ts';
import { smallPlan, writeSheetBook } from '../../archive/sheets/sheet-book.ts';
import { lookAt, personAt } from '../person.ts';
import { sendFile } from '../send-book.ts';
import { desk, newPart } from './desk.ts';

const PAGES = 16;

/** Imposed sheets. */
export function sheets(): void {
  test('sheets lie open with their pages, and lead to each comparison and back', async () => {
    const { service } = desk;
    const part = await newPart('case', 'sheets');
    const { page } = await personAt(service.origin, service.printer.cookie);
    const folder = scratchFolder();
    const bookPath = await writeSheetBook(join(folder, 'book.pdf'), PAGES);
    await sendFile(service, bookPath, { part, kind: 'dummy', until: 'read' });
    const outPath = join(folder, 'sheets.pdf');
    await imposeSheets({
      bookPath,
      outPath,
      plan: smallPlan(PAGES),
      faults: [{ kind: 'exchanged', pages: [5, 12] }],
    });
    const file = await sendFile(service, outPath, {
      part,
      kind: 'plates-input',
      until: 'compared',
      name: 'sheets.pdf',
    });
    await page.goto(`/titles/${service.ids.title}/files/${file}`);
    await page.getByRole('link', { name: 'The sheets' }).click();
    await page.getByRole('heading', { name: 'Sheet 1, front' }).waitFor();
    const side = page.getByRole('img', { name: 'Sheet 1, front' });
    await expect.poll(() => side.evaluate((image: HTMLImageElement) => image.naturalWidth)).toBeGreaterThan(640);
    await lookAt(page, 'sheets');
    const [cell, picture] = [page.getByRole('link', { name: /^Page 5\b/ }), side];
    const [inside, outside] = [await cell.boundingBox(), await picture.boundingBox()];
    expect(inside!.x).toBeGreaterThanOrEqual(outside!.x - 1);
    expect(inside!.width).toBeLessThan(outside!.width / 3);
    await cell.click();
    await page.getByRole('heading', { name: 'Page 5, closely' }).waitFor();
    await page.getByRole('link', { name: 'On sheet 1' }).click();
    await page.getByRole('heading', { name: 'Sheet 1, front' }).waitFor();
    // What is signed of sheets are their sides.
    await page.goto(`/titles/${service.ids.title}/files/${file}/release`);
    await page.getByRole('heading', { name: 'Release' }).first().waitFor();
    await lookAt(page, 'release-sheets');
  });
}
