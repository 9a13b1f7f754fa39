import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { scratchFolder } from '../../archive/scratch.ts';
import { writeBook } from '../../archive/small-book.ts';
import type { SmallPage } from '../../archive/small-book.ts';
import { done, peopledService } from '../../service/peopled-service.ts';
import type { PeopledService } from '../../service/peopled-service.ts';
import { personAt } from '../person.ts';

/** The service over which all of these tests sit. */
export const desk = { service: {} as PeopledService };

/** Starts it. */
export async function openDesk(): Promise<void> {
  desk.service = await peopledService({ WITNESSLEAF_WORKERS: '1' }, true);
}

/** A part of its own for tests that send files. */
export async function newPart(kind: 'case' | 'jacket' | 'endpapers', label = ''): Promise<string> {
  const { printer, ids } = desk.service;
  const made = await done(printer.send('POST', `/api/titles/${ids.title}/parts`, { kind, label }), 201);
  return (made as { id: string }).id;
}

/** Opens a part, sends a book there, and gives the page. */
export async function sendBook(
  who: { readonly cookie: string },
  part: string,
  name: string,
  pages: readonly SmallPage[],
): Promise<Page> {
  const { origin, ids } = desk.service;
  const { page } = await personAt(origin, who.cookie);
  await page.goto(`/titles/${ids.title}/parts/${part}`);
  await page
    .locator('input[type=file]')
    .first()
    .setInputFiles(await writeBook(join(scratchFolder(), name), pages));
  await page.getByRole('button', { name: 'Send the file' }).click();
  return page;
}
