import { createHash } from 'node:crypto';
import { createWriteStream } from 'node:fs';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { Refusal } from '../../../model/index.ts';
import type { ZipMember } from '../../../reading/index.ts';
import { listZip, memberPieces } from '../../../reading/index.ts';
import type { UnpackJob, ZipJob } from '../../page-jobs.ts';

/** What DEFLATE can make of a plate with nothing on it. @source RFC 1951: at most 1032 to 1 */
const EXPANSION = 1032;
/** The first edition with sizes over 4 GiB; nothing newer is needed. @source PKWARE, APPNOTE 6.3.10, 4.4.3 */
const ZIP_EDITION = 45;
/** As the catalogue has names of files. */
const LONGEST_NAME = 500;
/** What programs of other systems leave beside what somebody packed. @source common practice, no source */
const LEFT_BESIDE = /(^|\/)(__MACOSX\/|\.)/;
const PLATE = /\.tiff?$/i;
/** Line breaks and the like, which would let a name look like another. */
const UNSEEN = /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\\]/u;

/**
 * The plates in a ZIP, by name. Whatever else lies in it is left alone.
 *
 * @throws {Refusal} malformed: a name that leads elsewhere, cannot be seen or stands there twice; too-large: over a limit
 * @throws {Refusal} as `listZip`
 */
export async function listPlates({ path, name: what, limits }: Omit<ZipJob, 'do'>): Promise<readonly ZipMember[]> {
  const members = await listZip(path, {
    ...{ what, members: limits.plates, expansion: EXPANSION, zipEdition: ZIP_EDITION },
    accept: (files) => {
      const seen = new Set<string>();
      let sum = 0;
      for (const { name, bytes } of files) {
        requirePlain(name, what);
        // on some machines two names that differ in capitals are one file
        const folded = name.toLowerCase();
        if (seen.has(folded)) throw unlike(what, 'each name once', `${name} twice`);
        seen.add(folded);
        sum += bytes;
        requireAtMost(name, bytes, limits.fileBytes);
        requireAtMost(what, sum, limits.platesBytes);
      }
    },
  });
  return members
    .filter(({ name }) => PLATE.test(name) && !LEFT_BESIDE.test(name))
    .sort((one, other) => (one.name < other.name ? -1 : 1));
}

function requirePlain(name: string, what: string): void {
  const isPlain = name.length <= LONGEST_NAME && !UNSEEN.test(name) && !/^(\/|[A-Za-z]:)/.test(name);
  if (isPlain && name.split('/').every((piece) => piece !== '.' && piece !== '..')) return;
  throw unlike(what, 'plain names of files', name.slice(0, 80));
}

function requireAtMost(what: string, found: number, limit: number): void {
  if (found > limit) throw new Refusal('too-large', { what, limit, found, unit: 'bytes' });
}

function unlike(pointer: string, expected: string, found: string): Refusal {
  return new Refusal('malformed', { pointer, expected, found });
}

/**
 * Takes one file out of a ZIP.
 *
 * @returns its SHA-256
 * @throws {Refusal} as `memberPieces`
 */
export async function unpack({ path, member, to }: UnpackJob): Promise<string> {
  const hash = createHash('sha256');
  await pipeline(
    Readable.from(memberPieces(path, member), { objectMode: false }),
    async function* (pieces: AsyncIterable<Uint8Array>) {
      for await (const piece of pieces) {
        hash.update(piece);
        yield piece;
      }
    },
    createWriteStream(to),
  );
  return hash.digest('hex');
}
