import { cp, rm, truncate } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkSheets, startPageWorkers, type Progress } from '../../../src/archive/index.ts';
import { DEFAULT_LIMITS, DEFAULT_TOLERANCES, type Report } from '../../../src/model/index.ts';
import { formatReport } from '../../../src/reporting/index.ts';
import { parseReport } from '../../../src/reporting/report-parsing.ts';
import { hasTool } from '../../reading/pdf/outside-tool.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import { scratchFolder } from '../small-book.ts';
import { greysOf, screenPlates, separatedPdf, writePlate } from './plate-book.ts';
import { FACE, smallPlan, told, writeSheetBook } from './sheet-book.ts';

const pool = startPageWorkers(1, DEFAULT_LIMITS);
const plan = smallPlan(4);
let folder = '';
let dummyPath = '';
let plates = '';
/** More done than there is to do. */
const beyond: Progress[] = [];

async function check(...paths: readonly [string, ...string[]]): Promise<Report> {
  const [sheetsPath, ...furtherPaths] = paths;
  const checked = await checkSheets({
    dummyPath,
    sheetsPath,
    furtherPaths,
    planChoice: { from: 'given', plan },
    tolerances: DEFAULT_TOLERANCES,
    limits: DEFAULT_LIMITS,
    purpose: 'plates',
    keptFolder: join(folder, 'kept'),
    workers: pool,
    onProgress: (progress) => {
      if (progress.done > progress.total) beyond.push(progress);
    },
  });
  await checked.close();
  return checked.report;
}

async function wrongPlates(name: string): Promise<(side: 1 | 2, ink: string) => string> {
  const copy = join(folder, name);
  await cp(plates, copy, { recursive: true });
  return (side, ink) => join(copy, `demo_${side}(${ink}).tif`);
}

describe.skipIf(!hasTool('gs', 'ghostscript'))('sheets that come as one plate for each ink', () => {
  beforeAll(async () => {
    folder = await scratchFolder();
    dummyPath = await writeSheetBook(join(folder, 'book.pdf'), 4, FACE);
    plates = await screenPlates(folder, dummyPath, plan);
  }, 120_000);
  afterAll(async () => {
    await pool.close();
    await rm(folder, { recursive: true });
  });

  it('are silent where they are right, and every plate is a fact of the report', async () => {
    const report = await check(plates);
    expect(told(report)).toEqual([]);
    expect(report.verdict).toBe('match');
    expect(beyond).toEqual([]);
    const { separations } = parseReport(formatReport(report)).sheets!;
    expect(separations!.map(({ file, ink, side, bits }) => [file, ink, side, bits])).toEqual(
      (['front', 'back'] as const).flatMap((side, at) =>
        ['Cyan', 'Magenta', 'Yellow', 'Black'].map((ink) => [`demo_${at + 1}(${ink}).tif`, ink.toLowerCase(), side, 8]),
      ),
    );
  }, 60_000);

  it('are the same as pages of one PDF', async () => {
    const report = await check(await separatedPdf(plates, join(folder, 'separated.pdf')));
    expect(told(report)).toEqual([]);
    expect(report.sheets!.separations).toHaveLength(8);
  }, 60_000);

  it('are told where inks are exchanged and one is out of register, and their pages are still compared', async () => {
    const at = await wrongPlates('mixed');
    const [cyan, yellow] = [await greysOf(at(1, 'Cyan')), await greysOf(at(1, 'Yellow'))];
    await writePlate(at(1, 'Cyan'), yellow);
    await writePlate(at(1, 'Yellow'), cyan);
    await writePlate(at(2, 'Magenta'), await greysOf(at(2, 'Magenta')), [6, 4]);
    const report = await check(join(folder, 'mixed'));
    expect(told(report)).toEqual(['inks-exchanged 1 1', 'separation-out-of-register 2 2']);
    const { shiftXmm, shiftYmm } = report.findings[1]!.measured as { shiftXmm: number; shiftYmm: number };
    expect(Math.hypot(shiftXmm - (6 / 600) * 25.4, shiftYmm - (4 / 600) * 25.4)).toBeLessThan(0.03);
    expect(report.pages.map(({ state }) => state)).toEqual(Array.from({ length: 4 }, () => 'same-picture'));
  }, 60_000);

  it('are told where one is missing and one is empty; pages that need them are not compared', async () => {
    const at = await wrongPlates('lacking');
    await rm(at(1, 'Magenta'));
    const yellow = await greysOf(at(2, 'Yellow'));
    await writePlate(at(2, 'Yellow'), { ...yellow, data: Buffer.alloc(yellow.data.length, 255) });
    const report = await check(join(folder, 'lacking'));
    expect(told(report)).toEqual(['separation-missing 1 1', 'separation-empty 2 2']);
    expect(report.pages.map(({ state }) => state)).toEqual(Array.from({ length: 4 }, () => 'differs'));
  }, 60_000);

  it('are refused where one is cut short, or there is none', async () => {
    const at = await wrongPlates('short');
    await truncate(at(1, 'Yellow'), 9000);
    expect(await laterRefusalOf(check(join(folder, 'short')))).toMatchObject({
      kind: 'unreadable',
      file: 'demo_1(Yellow).tif',
      reason: expect.stringMatching(/truncated/) as unknown,
    });
    expect(await laterRefusalOf(check(join(plates, 'demo_1(Cyan).tif'), dummyPath))).toMatchObject({
      kind: 'unreadable',
    });
    expect(await laterRefusalOf(check(join(folder, 'kept')))).toMatchObject({
      reason: 'there is no TIFF in this folder',
    });
  }, 60_000);
});
