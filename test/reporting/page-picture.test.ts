import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { holdLoans } from '../../src/archive/index.ts';
import { openPagePictures } from '../../src/reporting/index.ts';
import { openFileDesk } from '../archive/checking/file-desk.ts';
import { laterRefusalOf } from '../archive/later-refusal-of.ts';

describe('a picture of a page', () => {
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
