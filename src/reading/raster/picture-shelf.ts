import { createHash } from 'node:crypto';
import { readFile, rename, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { PDFRawStream, PDFStream } from '@cantoo/pdf-lib';
import type { Ppi } from '../../model/index.ts';
import type { Book } from '../pdf/book.ts';
import { dataDigest } from '../pdf/data-digest.ts';
import { filterSteps, staysAsCoded } from '../pdf/decode.ts';
import type { SampleLayout } from './picture-kind.ts';

/**
 * A folder where pictures that were made smaller for drawing wait for the next page that shows them: those of a sheet are
 * asked for by its sides and by the pages cut out of it. It belongs to one check and goes with it.
 */
export interface PictureShelf {
  readonly folder: string;
  /** Pictures are made for pages drawn at this resolution, whatever theirs is. */
  readonly ppi: Ppi;
  /** So many bytes at most are put there by each process; what comes later is made anew each time. */
  readonly mostBytes: number;
}

/** What a smaller picture depends on, but for its data. */
export interface Shelved {
  readonly layout: SampleLayout;
  readonly width: number;
  readonly height: number;
  /** Of a picture in four inks; null for the default. */
  readonly profile: PDFStream | null;
}

const putBytes = new Map<string, number>();
let puts = 0;

/** Where a picture stands on the shelf: a hash of all that it depends on. */
export function shelfPlace(
  { folder }: PictureShelf,
  { book, stream }: { readonly book: Book; readonly stream: PDFRawStream },
  { layout, width, height, profile }: Shelved,
): string {
  const { dict } = stream;
  const steps = filterSteps(dict);
  const named = steps.map(({ name, parms }) => [name, parms?.toString() ?? '']);
  const hash = createHash('sha256').update(JSON.stringify([layout, width, height, named]));
  if (profile !== null) hash.update(profile.getContents());
  // where no filter is undone the page's hash asked for the same
  const data = staysAsCoded(steps)
    ? dataDigest(book, { dict, coded: () => stream.contents }).sha256
    : createHash('sha256').update(stream.contents).digest();
  return join(folder, `${hash.update(data).digest('hex')}.picture`);
}

/** The picture's bytes, or null where it is not there. */
export async function takeFromShelf(place: string, bytes: number): Promise<Uint8Array | null> {
  const found = await readFile(place).catch(() => null);
  return found?.length === bytes ? found : null;
}

/** Puts a picture there for others; a disk that does not take it costs only the time that it would have saved. */
export async function putOnShelf({ folder, mostBytes }: PictureShelf, place: string, data: Uint8Array): Promise<void> {
  const sum = (putBytes.get(folder) ?? 0) + data.length;
  if (sum > mostBytes) return;
  putBytes.set(folder, sum);
  const fresh = `${place}.${process.pid}-${(puts += 1)}`;
  await writeFile(fresh, data)
    .then(() => rename(fresh, place))
    .catch(() => undefined);
}
