import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { verifyPack } from '../../../src/reporting/index.ts';
import { scratchFolder } from '../../archive/scratch.ts';
import { bareTools, runScript, unpack } from '../../reporting/evidence-pack/unpacked.ts';
import { lookAt, personAt } from '../person.ts';
import { goOn, story } from './story.ts';

/** What was agreed is proved to anybody. */
export function proof(): void {
  test('anybody drops the evidence pack on a page without an account, and it verifies without leaving the browser', async () => {
    const { ada } = story.desks;
    await goOn(ada, `/titles/${story.desks.ids.title}/evidence`);
    await ada.page.getByText('Printer’s error').first().waitFor();
    await ada.page
      .getByRole('img', { name: /Page 1 of/ })
      .first()
      .waitFor();
    await lookAt(ada.page, 'evidence');
    // It is made now, page by page.
    const filing = ada.page.waitForEvent('download', { timeout: 50_000 });
    await ada.page.getByRole('link', { name: 'Plates input, mended.pdf (PDF)' }).click();
    const filed = await readFile(await (await filing).path());
    expect([filed.subarray(0, 5).toString(), filed.includes('/Type /Page')]).toEqual(['%PDF-', true]);
    const saving = ada.page.waitForEvent('download');
    await ada.page.getByRole('link', { name: 'Take the evidence pack' }).click();
    const pack = join(scratchFolder(), 'pack.zip');
    await (await saving).saveAs(pack);

    const { page } = await personAt(story.desks.origin);
    const asked: string[] = [];
    page.on('request', (request) => asked.push(`${request.method()} ${request.postDataBuffer()?.length ?? 0}`));
    await page.goto('/verify');
    await page.getByLabel('Evidence pack', { exact: true }).setInputFiles(pack);
    await page.getByText('Nothing is wrong').waitFor();
    expect(await page.getByRole('row', { name: /Does not hold/ }).count()).toBe(0);
    expect((await verifyPack(pack)).checks.filter(({ check }) => check.outcome !== 'holds')).toEqual([]);
    await lookAt(page, 'verified');
    const { folder } = unpack(await readFile(pack));
    expect(runScript(bareTools(), folder)).toMatchObject({ status: 0, err: '' });

    // One byte, in the middle of a member.
    const bytes = await readFile(pack);
    for (const inside of ['"decision":"agreed"', 'witnessleaf-entry/1', '-----BEGIN CERTIFICATE-----', '%PDF-1']) {
      const place = bytes.indexOf(inside);
      const altered = Buffer.from(bytes);
      altered[place + 3] = (altered[place + 3] ?? 0) ^ 1;
      expect([inside, place > 0]).toEqual([inside, true]);
      await page
        .getByLabel('Evidence pack', { exact: true })
        .setInputFiles({ name: inside.replace(/\W/g, ''), mimeType: 'application/zip', buffer: altered });
      await page.getByText('Do not rely on this pack').waitFor();
      await page.getByText(inside.replace(/\W/g, ''), { exact: true }).waitFor();
    }
    expect(asked.filter((one) => !one.endsWith(' 0') || !one.startsWith('GET '))).toEqual([]);
  });
}
