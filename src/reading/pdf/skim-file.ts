import type { DiskFile } from './disk-file.ts';
import { ObjectSkimmer } from './skim-object.ts';
import type { OnDisk } from './skim-object.ts';

/** A file without the data of its long streams. */
export interface SkimmedFile {
  /** What is left, in its order; where data were cut out, eight zeros stand, and /Length is 8. */
  readonly bytes: Buffer;
  /** By the place of the eight zeros in `bytes`. */
  readonly cut: ReadonlyMap<number, OnDisk>;
}

/** Shorter data are kept. */
export const LEAST_CUT = 2 ** 16;
const STAND_IN = Buffer.alloc(8);

/**
 * Reads a PDF file but for the data of its long streams, which are passed over by their /Length: a book of pictures is
 * read in a few megabytes. Nothing is guessed: data are cut out only where `endstream` and `endobj` follow them, and only
 * while everything before was in order, so that nothing within other data is taken for an object.
 *
 * @returns null where the file is not in order throughout; it is then to be read whole
 * @source ISO 32000-2 7.2, 7.3.8, 7.5: tokens, streams, what a file consists of
 */
export function skimFile(file: DiskFile): SkimmedFile | null {
  const parts: Buffer[] = [];
  const cut = new Map<number, OnDisk>();
  let length = 0;
  let copied = 0;
  const copyTo = (end: number): void => {
    const part = file.read(copied, end - copied);
    parts.push(part);
    length += part.length;
    copied = end;
  };
  const skimmer = new ObjectSkimmer(file);
  for (;;) {
    const next = skimmer.next();
    if (next === 'end') break;
    if (next === 'disorder') return null;
    const { value, data } = next;
    if (data.bytes < LEAST_CUT || next.isStructure) continue;
    copyTo(value.from);
    const stated = Buffer.from(String(STAND_IN.length).padEnd(value.to - value.from), 'latin1');
    parts.push(stated);
    length += stated.length;
    copied = value.to;
    copyTo(data.at);
    cut.set(length, data);
    parts.push(STAND_IN);
    length += STAND_IN.length;
    copied = data.at + data.bytes;
  }
  copyTo(file.bytes);
  return { bytes: Buffer.concat(parts, length), cut };
}
