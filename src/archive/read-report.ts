import type { Report } from '../model/index.ts';
import { Refusal } from '../model/index.ts';
import type { Blobs } from './blobs/index.ts';

/**
 * Reads back a report that the archive keeps. Its hash is checked on the way, and only this program's own reports are
 * kept as such, so its form is trusted.
 *
 * @throws {Refusal} not-found, unreadable: as `Blobs.read`, and where it is no report
 */
export async function readReport(blobs: Blobs, sha256: string): Promise<Report> {
  const pieces: Uint8Array[] = [];
  for await (const piece of blobs.read(sha256)) pieces.push(piece);
  const report = JSON.parse(Buffer.concat(pieces).toString('utf8')) as Report;
  if ((report.format as string) === 'witnessleaf-report/1') return report;
  throw new Refusal('unreadable', { file: sha256, reason: 'it is no report' });
}
