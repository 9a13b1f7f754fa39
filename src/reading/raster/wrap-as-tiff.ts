import type { SampleLayout } from './picture-kind.ts';

const SHORT = 3;
const LONG = 4;
const HEADER_BYTES = 8;

/**
 * An uncompressed TIFF file around samples, because the picture library takes CMYK samples in no other form.
 *
 * @param samples  at least width times height times channels bytes, row by row from the top left
 * @source TIFF 6.0 part 1 (baseline) and section 16 (CMYK, InkSet left at its default)
 */
export function wrapAsTiff(samples: Uint8Array, layout: SampleLayout): Buffer {
  const { pixelWidth, pixelHeight, channels } = layout;
  const bytes = pixelWidth * pixelHeight * channels;
  const photometric = channels === 4 ? 5 : channels === 3 ? 2 : 1;
  const directory: readonly (readonly [tag: number, type: number, count: number, value: number])[] = [
    [256, LONG, 1, pixelWidth],
    [257, LONG, 1, pixelHeight],
    // Bits of each sample: a single one fits in the entry, more of them stand behind the directory.
    [258, SHORT, channels, channels === 1 ? 8 : 0],
    [259, SHORT, 1, 1],
    [262, SHORT, 1, photometric],
    [273, LONG, 1, HEADER_BYTES],
    [277, SHORT, 1, channels],
    [278, LONG, 1, pixelHeight],
    [279, LONG, 1, bytes],
    [284, SHORT, 1, 1],
  ];
  const directoryAt = HEADER_BYTES + bytes + (bytes % 2);
  const bitsAt = directoryAt + 2 + directory.length * 12 + 4;
  const file = Buffer.alloc(bitsAt + 2 * channels);
  file.write('II*\0', 0, 'latin1');
  file.writeUInt32LE(directoryAt, 4);
  file.set(samples.subarray(0, bytes), HEADER_BYTES);
  file.writeUInt16LE(directory.length, directoryAt);
  directory.forEach(([tag, type, count, value], at) => {
    const entry = directoryAt + 2 + at * 12;
    file.writeUInt16LE(tag, entry);
    file.writeUInt16LE(type, entry + 2);
    file.writeUInt32LE(count, entry + 4);
    if (tag === 258 && channels > 1) file.writeUInt32LE(bitsAt, entry + 8);
    else if (type === SHORT) file.writeUInt16LE(value, entry + 8);
    else file.writeUInt32LE(value, entry + 8);
  });
  for (let channel = 0; channel < channels; channel++) file.writeUInt16LE(8, bitsAt + 2 * channel);
  return file;
}
