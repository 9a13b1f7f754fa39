import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { holdLoans } from '../../src/archive/index.ts';
import { openPagePictures } from '../../src/reporting/index.ts';
import { openFileDesk } from '../archive/checking/file-desk.ts';
import { laterRefusalOf } from '../archive/later-refusal-of.ts';

describe('a picture of a page', () => {
  it('is there in the usual widths before anybody asks, from one drawing, as far as nothing else is to do', async () => {
    const desk = await openFileDesk({ drawReport: async () => 0 });
    const { archive, order } = desk;
    const pages = [{ tint: '#33aa66' }, { lines: ['a second page'] }, { lines: ['a third one'] }];
    const dummy = await desk.sendPages(pages, { kind: 'dummy' });
    await desk.workOff();
    let drawn = 0;
    const run: typeof order.pool.run = (...job) => ((drawn += 1), order.pool.run(...job));
    const pool = { ...order.pool, run };
    const loans = holdLoans(archive.blobs, 10);
    const asked = { ...order.pool, run: () => Promise.reject(new Error('nobody is to wait for a drawing')) };
    const pictures = openPagePictures(archive, { pool: asked, limits: order.limits, loans }, order.now);
    let left = 2;
    await pictures.drawAhead(dummy, pool, async () => (left -= 1) >= 0);
    expect(drawn).toBe(2);
    const widths: number[] = [];
    for (const width of [320, 640, 1280]) widths.push((await pictures.pagePicture(dummy, 2, width)).widthPx);
    expect(widths).toEqual([320, 640, 1280]);
    await expect(pictures.pagePicture(dummy, 3, 320)).rejects.toThrow('nobody is to wait');
    await pictures.drawAhead(dummy, pool, async () => true);
    expect(drawn).toBe(3);
    expect((await pictures.pagePicture(dummy, 3, 640)).heightPx).toBe(768);
    loans.close();
  });

  it('is drawn once for every file that shows the same, in the next larger width', async () => {
    const desk = await openFileDesk({ drawReport: async () => 0 });
    const { archive, order } = desk;
    const page = { tint: '#33aa66' };
    const dummy = await desk.sendPages([page], { kind: 'dummy' });
    const revision = await desk.sendPages([{ lines: ['a new first page'] }, page]);
    let drawn = 0;
    const pool = {
      ...order.pool,
      run: (...job: Parameters<typeof order.pool.run>) => ((drawn += 1), order.pool.run(...job)),
    };
    const tools = { pool: pool as typeof order.pool, limits: order.limits, loans: holdLoans(archive.blobs, 10) };
    const pictures = openPagePictures(archive, tools, order.now);
    expect(await laterRefusalOf(pictures.pagePicture(dummy, 1, 300))).toMatchObject({ kind: 'out-of-step' });
    await desk.workOff();
    const both = [pictures.pagePicture(dummy, 1, 300), pictures.pagePicture(dummy, 1, 320)];
    const [one, other] = await Promise.all(both);
    const again = await pictures.pagePicture(revision, 2, 161);
    expect([other, again, drawn]).toEqual([one, one, 1]);
    const pieces: Uint8Array[] = [];
    for await (const piece of archive.blobs.read(one!.sha256)) pieces.push(piece);
    const { format, width, height } = await sharp(Buffer.concat(pieces)).metadata();
    expect([format, width, height]).toEqual(['webp', 320, one!.heightPx]);
    expect(one!.heightPx).toBe(384);
    expect(await laterRefusalOf(pictures.pagePicture(dummy, 2, 300))).toEqual({ kind: 'not-found', what: 'page' });
    expect(await laterRefusalOf(pictures.pageDetail(dummy, 2, { column: 0, row: 0 }))).toMatchObject({ what: 'page' });
    // 100 x 120 mm are 4724 x 5669 pixels at 1200 ppi: two parts across, three down.
    const { webp } = await pictures.pageDetail(dummy, 1, { column: 1, row: 2 });
    const last = await sharp(webp).metadata();
    expect([last.format, last.width, last.height]).toEqual(['webp', 4724 - 2400, 5669 - 4800]);
    const beyond = pictures.pageDetail(dummy, 1, { column: 2, row: 0 });
    expect(await laterRefusalOf(beyond)).toEqual({ kind: 'not-found', what: 'part of the page' });
    tools.loans.close();
  });
});
