import { crc32, storedZip, type StoredFile } from '../../src/model/index.ts';

const PLATE = /\.tiff?$/i;

/** Whether a file is plates by its name: one, or a ZIP of them. */
export function isOfPlates({ name }: File): boolean {
  return PLATE.test(name) || /\.zip$/i.test(name);
}

/**
 * What goes to the service of the files that were chosen: several plates go together as one ZIP, everything else as it is.
 * The plates are read once for their checksums and never copied: the browser reads them again as they go over the line.
 */
export async function withPlatesTogether(files: readonly File[]): Promise<readonly File[]> {
  const plates = files.filter(({ name }) => PLATE.test(name));
  // two of one name lie in different folders, and nothing here says which is which
  if (plates.length < 2 || new Set(plates.map(({ name }) => name.toLowerCase())).size < plates.length) return files;
  return [...files.filter((file) => !plates.includes(file)), await packed(plates)];
}

async function packed(plates: readonly File[]): Promise<File> {
  const inOrder = [...plates].sort((one, other) => (one.name < other.name ? -1 : 1));
  const stored: (StoredFile & { readonly file: File })[] = [];
  for (const file of inOrder) {
    stored.push({ name: file.name, bytes: file.size, crc32: await checksumOf(file), file });
  }
  const parts = storedZip(stored).map((piece) => ('file' in piece ? piece.file : piece));
  // as long as the plates are the same, so is this, also after the page was loaded again
  const lastModified = Math.max(...plates.map((plate) => plate.lastModified));
  return new File(parts, nameOf(inOrder), { type: 'application/zip', lastModified });
}

async function checksumOf(file: File): Promise<number> {
  let checksum = 0;
  const reader = file.stream().getReader();
  for (let next = await reader.read(); !next.done; next = await reader.read()) checksum = crc32(next.value, checksum);
  return checksum;
}

/** By what their names have in common. */
function nameOf(plates: readonly File[]): string {
  const [first, last] = [plates[0]?.name ?? '', plates.at(-1)?.name ?? ''];
  let common = 0;
  while (common < first.length && first[common] === last[common]) common += 1;
  const stem = first.slice(0, common).replace(/[\s._([{-]+$/, '');
  return stem === '' ? 'plates.zip' : `${stem} plates.zip`;
}
