import { mkdir, mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { clearReportFolder } from '../../../src/reporting/html/report-folder.ts';
import { formatReport, requireReportFolder } from '../../../src/reporting/index.ts';
import { refusalOf } from '../../reading/refused.ts';
import { MATCHING_REPORT } from '../sample-book.ts';

let desk = '';
beforeAll(async () => {
  desk = await mkdtemp(join(tmpdir(), 'report-folder-'));
});
afterAll(() => rm(desk, { recursive: true }));

const foreign = (folder: string): object => ({
  kind: 'malformed',
  pointer: folder,
  expected: 'a new or empty folder or an earlier report',
  found: 'a folder with other contents',
});

async function folderWith(name: string, files: Readonly<Record<string, string>>): Promise<string> {
  const folder = join(desk, name);
  await mkdir(join(folder, 'pictures'), { recursive: true });
  for (const [path, text] of Object.entries(files)) await writeFile(join(folder, path), text);
  return folder;
}

describe('the folder of a report', () => {
  it('is made where it is absent, with the folders above it', async () => {
    const folder = join(desk, 'a', 'b', 'report');
    await clearReportFolder(folder);
    expect((await readdir(folder)).sort()).toEqual(['.witnessleaf-report', 'pictures']);
  });

  it('is refused where somebody’s photographs lie in it, and they stay', async () => {
    const folder = await folderWith('photographs', { 'index.html': 'mine', 'pictures/finding-1-dummy.webp': 'mine' });
    expect(await refusalOf(requireReportFolder(folder))).toEqual(foreign(folder));
    expect(await refusalOf(clearReportFolder(folder))).toEqual(foreign(folder));
    expect((await readdir(folder)).sort()).toEqual(['index.html', 'pictures']);
  });

  it('is refused where a report for programs lies among other things', async () => {
    const folder = await folderWith('mixed', { 'report.json': formatReport(MATCHING_REPORT), 'notes.txt': 'mine' });
    expect(await refusalOf(requireReportFolder(folder))).toEqual(foreign(folder));
  });

  it('may be the one in which the report for programs was just written', async () => {
    const folder = join(desk, 'with-json');
    await mkdir(folder);
    await writeFile(join(folder, 'report.json'), formatReport(MATCHING_REPORT));
    expect(await refusalOf(requireReportFolder(folder))).toBe('nothing was refused');
  });

  it('is refused where it is a file', async () => {
    const path = join(desk, 'file');
    await writeFile(path, '');
    expect(await refusalOf(requireReportFolder(path))).toEqual({
      kind: 'malformed',
      pointer: path,
      expected: 'a folder',
      found: 'a file',
    });
  });

  it('loses the earlier report, and nothing that somebody added to it', async () => {
    const folder = join(desk, 'again');
    await clearReportFolder(folder);
    for (const name of ['index.html', 'report.json', 'notes.txt', 'pictures/finding-12-difference.webp']) {
      await writeFile(join(folder, name), 'old');
    }
    await writeFile(join(folder, 'pictures', 'finding-of-my-own.webp'), 'mine');
    await clearReportFolder(folder);
    expect((await readdir(folder)).sort()).toEqual(['.witnessleaf-report', 'notes.txt', 'pictures']);
    expect(await readdir(join(folder, 'pictures'))).toEqual(['finding-of-my-own.webp']);
  });
});
