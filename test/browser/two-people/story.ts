import type { SmallPage } from '../../archive/small-book.ts';
import { readSheet, signSheet, twoDesks, type DeskOfOne, type TwoDesks } from './two-desks.ts';

/** A name that is a script where a page takes it for more than words. */
export const HOSTILE = '<img src=x onerror=alert(1)>“</title><script>alert(2)</script>.pdf';

/** The book. */
export const PAGES: readonly SmallPage[] = [
  { lines: ['A Winter’s Round'] },
  { lines: ['The harbour in the morning', 'and the boats of the night before'] },
  { lines: ['Nets are mended on the quay', 'by those who went out last'], tint: '#3366aa' },
];

/** The author altered a line of the third page. */
export const MENDED = PAGES.with(2, {
  ...PAGES[2],
  lines: ['Nets are mended on the pier', 'by those who went out last'],
});

/** And the printer one of the second. */
export const FAULTY = MENDED.with(1, {
  lines: ['The harbour in the evening', 'and the boats of the night before'],
});

/** What the tests of one story share: who sits where, and which files were sent. */
export const story = {
  desks: {} as TwoDesks,
  ids: { dummy: '', another: '', faulty: '', mended: '' },
  /** Of the endpapers; the hashes of their plates in the order of their names. */
  plates: { part: '', dummy: '', file: '', hashes: [] as readonly string[] },
};

/** Seats them, and sends the dummy. */
export async function begin(): Promise<void> {
  story.desks = await twoDesks();
  story.ids.dummy = await story.desks.send(PAGES, 'dummy', 'read');
}

/** The address of something of a file. */
export function at(path: string): string {
  return `/titles/${story.desks.ids.title}/files/${path}`;
}

/** Goes on without loading the page anew, which would put the key away. */
export async function goOn({ page }: DeskOfOne, path: string): Promise<void> {
  await page.evaluate((to) => {
    history.pushState(null, '', to);
    dispatchEvent(new PopStateEvent('popstate'));
  }, path);
}

/** The same as far as reading the statement that is to be signed. */
export async function readRuling(desk: DeskOfOne, decision: string, account: string): Promise<void> {
  await desk.page.getByRole('heading', { name: 'Your side’s word' }).waitFor();
  await desk.page.getByRole('radio', { name: decision }).check();
  await desk.page.getByRole('radio', { name: account }).check();
  await readSheet(desk);
}

/** Says what is to become of the findings of a page and on whose account, and signs it. */
export async function rule(desk: DeskOfOne, decision: string, account: string): Promise<void> {
  await desk.page.getByRole('radio', { name: decision }).check();
  await desk.page.getByRole('radio', { name: account }).check();
  await signSheet(desk, 'Sign the ruling');
}
