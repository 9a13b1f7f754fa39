import { copyFile, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Exhibits, TakePicture } from '../pictures/exhibit.ts';
import { encodeWebp } from '../pictures/shrink.ts';
import { formatReport } from '../report-json.ts';
import type { ReportSubject } from '../report-subject.ts';
import { clearReportFolder } from './report-folder.ts';
import { reportPage } from './report-page.ts';

/** A report's folder while it is being filled. */
export interface OpenFolder {
  readonly take: TakePicture;
  finish(exhibits: Exhibits): Promise<void>;
}

/**
 * Opens a folder for the HTML report of a subject. Pictures are written as they come; the page itself comes last, so
 * that whoever sees it sees all of it.
 *
 * @throws {Refusal} malformed: the folder holds something else
 */
export async function openHtmlReport(subject: ReportSubject, folder: string): Promise<OpenFolder> {
  await clearReportFolder(folder);
  await writeFile(join(folder, 'report.json'), formatReport(subject.report));
  await writeFile(join(folder, 'report.css'), await styleSheet());
  await copyFile(new URL('report.js', import.meta.url), join(folder, 'report.js'));
  return {
    take: async (shot, picture) => {
      await writeFile(join(folder, 'pictures', `${shot.name}.webp`), await encodeWebp(picture));
    },
    finish: async (exhibits) => {
      await writeFile(join(folder, 'index.html'), reportPage(subject, exhibits));
    },
  };
}

/** In the order in which they build on each other. */
const STYLES = ['ground', 'masthead', 'book', 'sheets', 'findings', 'end-matter', 'narrow-and-print'] as const;

async function styleSheet(): Promise<string> {
  const parts = await Promise.all(
    STYLES.map((name) => readFile(new URL(`style/${name}.css`, import.meta.url), 'utf8')),
  );
  return parts.join('\n');
}
