import { PassThrough, Readable } from 'node:stream';
import { ZipFile } from 'yazl';
import type { Blobs } from '../../archive/index.ts';
import type { Member } from './member.ts';

/**
 * Members as a ZIP that is made while it is read: no file is held in memory. Nothing is compressed, because pictures and
 * PDF files are already, and so that no library's edition changes the bytes. Every member bears the same time.
 *
 * @param at  milliseconds since 1970, for the members' time
 * @returns it fails with the refusal of a blob that is damaged
 */
export function zipMembers(members: readonly Member[], blobs: Pick<Blobs, 'read'>, at: number): Readable {
  const zip = new ZipFile();
  const out = new PassThrough();
  const fail = (error: Error): void => void out.destroy(error);
  zip.outputStream.on('error', fail).pipe(out);
  zip.on('error', fail);
  // A DOS time has no zone and is taken from the machine's own: this one reads as UTC everywhere.
  const date = new Date(at);
  const mtime = new Date(
    ...([date.getUTCFullYear(), date.getUTCMonth(), date.getUTCDate()] as const),
    ...([date.getUTCHours(), date.getUTCMinutes(), date.getUTCSeconds()] as const),
  );
  for (const member of members) {
    const mode = member.name.endsWith('.sh') ? 0o100755 : 0o100644;
    const options = { mtime, mode, compress: false, forceDosTimestamp: true };
    if ('bytes' in member) {
      zip.addBuffer(Buffer.from(member.bytes), member.name, options);
      continue;
    }
    zip.addReadStreamLazy(member.name, { ...options, size: member.size }, (take) => {
      take(null, Readable.from(blobs.read(member.blob), { objectMode: false }).on('error', fail));
    });
  }
  zip.end();
  return out;
}
