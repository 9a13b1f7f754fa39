import { Refusal } from '../../model/index.ts';
import type { Blobs } from '../blobs/index.ts';
import type { KeptReport } from '../catalogue/index.ts';

/** More than the report of any book has. */
const MOST_BYTES = 256 * 2 ** 20;

/**
 * The sentences of a report, by the ids that its findings have in it.
 *
 * @throws {Refusal} unreadable, not-found: the report’s bytes are damaged or gone
 * @throws {Refusal} unreadable: no report
 * @throws {Refusal} too-large: more than 256 MiB
 */
export async function sentencesOf(blobs: Blobs, { sha256 }: KeptReport): Promise<ReadonlyMap<string, string>> {
  const pieces: Uint8Array[] = [];
  let found = 0;
  for await (const piece of blobs.read(sha256)) {
    found += piece.length;
    if (found > MOST_BYTES) throw new Refusal('too-large', { what: 'report', limit: MOST_BYTES, found, unit: 'bytes' });
    pieces.push(piece);
  }
  try {
    const { findings } = JSON.parse(Buffer.concat(pieces).toString('utf8')) as {
      readonly findings: readonly { readonly id: string; readonly says: string }[];
    };
    return new Map(findings.map(({ id, says }) => [id, says]));
  } catch (cause) {
    throw new Refusal('unreadable', { file: 'report', reason: 'it is not a report' }, cause);
  }
}
