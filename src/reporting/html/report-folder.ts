import { mkdir, readFile, readdir, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Refusal } from '../../model/index.ts';

/** Lies in every folder that this tool has filled; only such a folder is ever written over. */
const MARKER = '.witnessleaf-report';
const OWN_FILES = ['index.html', 'report.js', 'report.css', 'report.json'] as const;
const OWN_PICTURE = /^(finding|revision-page|dummy-page)-[0-9]+(-(dummy|revision|difference))?\.webp$/;

/**
 * Refuses a folder in which something lies that is no report of ours; one that is absent or empty passes. Asked before
 * the work, so that nobody waits for a report that cannot be written.
 *
 * @throws {Refusal} malformed: the path is a file, or a folder with other contents
 * @throws {Refusal} unavailable: the folder cannot be read
 */
export async function requireReportFolder(folder: string): Promise<void> {
  const entries = await entriesOf(folder);
  if (entries.length === 0 || entries.includes(MARKER)) return;
  if (entries.every((entry) => entry === 'report.json') && (await isPublishedReport(join(folder, 'report.json'))))
    return;
  throw new Refusal('malformed', {
    pointer: folder,
    expected: 'a new or empty folder or an earlier report',
    found: 'a folder with other contents',
  });
}

/**
 * Makes the folder ready for a new report: created where it is absent, an earlier report in it taken away, anything that
 * somebody added to it left alone.
 *
 * @throws {Refusal} malformed or unavailable: as `requireReportFolder`
 */
export async function clearReportFolder(folder: string): Promise<void> {
  await requireReportFolder(folder);
  const pictures = join(folder, 'pictures');
  await mkdir(pictures, { recursive: true });
  await writeFile(
    join(folder, MARKER),
    'This folder holds a report of Witness Leaf, which the next one may replace.\n',
  );
  // The page goes first: a report that was interrupted shows nothing rather than something wrong.
  for (const name of OWN_FILES) await rm(join(folder, name), { force: true });
  for (const name of await readdir(pictures)) if (OWN_PICTURE.test(name)) await rm(join(pictures, name));
}

async function entriesOf(folder: string): Promise<readonly string[]> {
  try {
    return await readdir(folder);
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : '';
    if (code === 'ENOENT') return [];
    if (code === 'ENOTDIR') {
      throw new Refusal('malformed', { pointer: folder, expected: 'a folder', found: 'a file' }, error);
    }
    throw new Refusal('unavailable', { what: folder, reason: `cannot be read (${String(code)})` }, error);
  }
}

async function isPublishedReport(path: string): Promise<boolean> {
  return (await readFile(path, 'utf8')).includes('"format": "witnessleaf-report/1"');
}
