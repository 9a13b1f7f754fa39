import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { imposeSheets } from '../../../demo/sheets/impose.ts';
import { formatPlan } from '../../../src/plates/index.ts';
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

  test('how they fold is said as they are sent; a plan of another book is refused while everything is still here', async () => {
    const { service } = desk;
    const part = await newPart('case', 'said');
    const { page } = await personAt(service.origin, service.printer.cookie);
    const folder = scratchFolder();
    const bookPath = await writeSheetBook(join(folder, 'book.pdf'), 8);
    await sendFile(service, bookPath, { part, kind: 'dummy', until: 'read' });
    const outPath = join(folder, 'sheets.pdf');
    const plan = smallPlan(8);
    await imposeSheets({ bookPath, outPath, plan });
    writeFileSync(join(folder, 'right.json'), formatPlan(plan));
    writeFileSync(join(folder, 'other.json'), formatPlan(smallPlan(16)));

    await page.goto(`/titles/${service.ids.title}/parts/${part}`);
    await page.locator('input[type=file]').first().setInputFiles(outPath);
    await page.getByLabel('Sent as').selectOption('Plates input');
    await page.getByLabel('How its sheets fold').selectOption('By the section and its folds');
    expect(await page.getByLabel('Pages of a section').inputValue()).toBe('16');
    await lookAt(page, 'sending-sheets');
    await page.getByLabel('How its sheets fold').selectOption('By a folding plan in a file');
    await page.getByLabel('The plan').setInputFiles(join(folder, 'other.json'));
    await page.getByRole('button', { name: 'Send the file' }).click();
    await page.getByText('a plan for the dummy’s 8 pages expected, one for 16 found').waitFor();
    await lookAt(page, 'sending-with-another-plan');
    expect(await service.archive.catalogue.files.ofPart(part)).toHaveLength(1);

    await page.getByLabel('The plan').setInputFiles(join(folder, 'right.json'));
    await page.getByRole('button', { name: 'Send the file' }).click();
    await page.getByRole('link', { name: 'See the file' }).click();
    await page.getByText('by a plan that was given').waitFor();
    await page.getByRole('link', { name: 'The sheets' }).click({ timeout: 60_000 });
    await page.getByText('as it was given; sewn in sections').waitFor();
    expect(await page.getByText('found from the sheets themselves').count()).toBe(0);
    const [saved] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'Save the plan' }).click(),
    ]);
    expect(saved.suggestedFilename()).toBe('sheets plan.json');
    await lookAt(page, 'sheets-as-given');

    // The same sheets, of which nothing is said: their plan is found, said otherwise, and at last confirmed.
    const told = { part, kind: 'plates-input', until: 'compared', name: 'found.pdf' } as const;
    const file = await sendFile(service, outPath, told);
    const address = `/titles/${service.ids.title}/files/${file}/sheets`;
    const { page: publisher } = await personAt(service.origin, service.publisher.cookie);
    await publisher.goto(address);
    await publisher.getByText('found from the sheets themselves; not confirmed').waitFor();
    expect(await publisher.getByRole('button', { name: 'Confirm this plan' }).count()).toBe(0);
    await page.goto(address);
    await page.getByRole('button', { name: 'Confirm this plan' }).click();
    await publisher.reload();
    await publisher.getByText(/^. The plan that was found is confirmed by /).waitFor();
    await page.getByText('These sheets fold otherwise').click();
    await lookAt(page, 'sheets-confirmed');
    await page.getByLabel('How its sheets fold').selectOption('By the section and its folds');
    await page.getByLabel('Pages of a section').fill('T>B, L>R');
    await page.getByRole('button', { name: 'Check them by this' }).click();
    await page.getByText('made from the folds; sewn in sections').waitFor({ timeout: 60_000 });
    expect(await page.getByText('The plan that was found').count()).toBe(0);
    await page.getByText(/^T>B, L>R, sewn in sections, sheetwise; /).waitFor();
    await lookAt(page, 'sheets-said-again');
  });
}
