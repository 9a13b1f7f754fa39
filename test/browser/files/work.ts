import { expect, test } from 'vitest';
import type { SmallPage } from '../../archive/small-book.ts';
import { lookAt, personAt } from '../person.ts';
import { desk, sendBook } from './desk.ts';
import { holdAtFirstFindings } from './held-work.ts';

const PAGES: readonly SmallPage[] = [
  { lines: ['The harbour in the morning', 'and the boats of the night before'] },
  { lines: ['Nets are mended on the quay', 'by those who went out last'], tint: '#3366aa' },
  ...Array.from({ length: 14 }, (_, index) => ({ lines: [`What stands on page ${index + 3}`, 'stays as it was'] })),
];
/** One page shows something else; the others are written otherwise and show the same, so that each has to be compared. */
const CHANGED = PAGES.map((page, index) =>
  index === 1 ? { ...page, lines: ['Nets are mended on the pier'] } : { ...page, raw: 'q Q' },
);

/** The work on a file is seen as it goes on, by both sides. */
export function work(): void {
  test('is seen by the other side as it goes on, without loading anything anew', async () => {
    const { service } = desk;
    const { part } = service.ids;
    const { page } = await personAt(service.origin, service.publisher.cookie);
    await page.goto(`/titles/${service.ids.title}/parts/${part}`);
    await page.getByRole('heading', { name: 'No file yet' }).waitFor();
    await sendBook(service.printer, part, 'dummy.pdf', PAGES);
    await page.getByRole('link', { name: 'Dummy', exact: true }).click();
    await page.getByRole('link', { name: 'To the signing' }).waitFor();
    await page.goto('/');
    await page.getByRole('link', { name: /A dummy to sign/ }).waitFor();
    await lookAt(page, 'home');
    await page.getByLabel('Find a title').fill('nothing like it');
    await page.getByText('No title has “nothing like it”').waitFor();
    await page.getByLabel('Find a title').fill('winter');
    await page.getByRole('link', { name: 'Ein Winterbuch', exact: true }).waitFor();
  });

  test('shows its first findings before the last page is read, also after a reload, and ends in a verdict', async () => {
    const { service } = desk;
    const { part } = service.ids;
    const { page: watching } = await personAt(service.origin, service.publisher.cookie);
    await watching.goto(`/titles/${service.ids.title}/parts/${part}`);
    await watching.getByRole('heading', { name: 'Files' }).waitFor();
    const holding = holdAtFirstFindings();
    const page = await sendBook(service.printer, part, 'revision.pdf', CHANGED);
    const held = await holding;
    try {
      await watching.getByText('1 finding so far').waitFor();
      await watching.getByRole('progressbar', { name: 'Comparing with the dummy' }).waitFor();
      await watching.getByRole('link', { name: 'Revision 1' }).click();
      for (const is of ['there', 'there again']) {
        if (is === 'there again') await watching.reload();
        const first = watching.getByRole('region', { name: 'First findings' });
        await first.getByText('Page 2:').waitFor();
        const line = watching.getByRole('progressbar', { name: 'Comparing with the dummy' });
        const [done, total] = await line.evaluate((one) => [
          (one as HTMLProgressElement).value,
          (one as HTMLProgressElement).max,
        ]);
        expect([is, done < total]).toEqual([is, true]);
      }
      await lookAt(watching, 'file-first-findings');
    } finally {
      held.letGo();
    }
    await watching.getByText('It differs from the dummy: 1 finding').waitFor();
    expect(await watching.getByRole('region', { name: 'First findings' }).count()).toBe(0);
    await page.getByRole('link', { name: 'Revision 1' }).click();
    await page.getByText('It differs from the dummy: 1 finding').waitFor();
    await page.getByText('Page 2:').waitFor();
    await lookAt(page, 'file-differs');
    const other = await sendBook(service.publisher, part, 'same.pdf', PAGES);
    await other.getByRole('link', { name: 'Revision 2' }).click();
    await other.getByText('It matches the dummy').waitFor();
  });

  test('goes on over a restart of the service, and whoever watches need not load anything anew', async () => {
    const { service } = desk;
    const { part } = service.ids;
    const book = Array.from({ length: 24 }, (_, index) => ({ lines: [`Page ${index} of a longer winter`] }));
    const page = await sendBook(service.sender, part, 'longer.pdf', book);
    await page.getByRole('link', { name: 'Revision 3' }).click();
    // the file is being compared already while the last of its reading is written down: either will do
    await page
      .getByRole('progressbar', { name: /Reading|Comparing/ })
      .first()
      .waitFor();
    await service.restart();
    await page.getByText('It differs from the dummy').waitFor();
    await page.getByText('Live news are interrupted').waitFor({ state: 'detached' });
  });

  test('a file that cannot be read says so, what is safe, and how to go on', async () => {
    const { service } = desk;
    const { part } = service.ids;
    const { origin, ids, sender } = service;
    const { page } = await personAt(origin, sender.cookie);
    await page.goto(`${origin}/titles/${ids.title}/parts/${part}`);
    const cut = { name: 'cut.pdf', mimeType: 'application/pdf', buffer: Buffer.from('%PDF-1.7 and then nothing') };
    await page.locator('input[type=file]').first().setInputFiles(cut);
    await page.getByRole('button', { name: 'Send the file' }).click();
    await page.getByRole('link', { name: 'Revision 4' }).click();
    await page.getByText('This file could not be worked on').waitFor();
    await lookAt(page, 'file-failed');
    await page.getByRole('link', { name: 'Titles' }).first().click();
    await page.getByRole('link', { name: /A file could not be read or compared/ }).click();
    await page.getByText('The file is kept as it came').waitFor();
    expect(await page.getByRole('button', { name: 'Try again' }).isEnabled()).toBe(true);
  });
}
