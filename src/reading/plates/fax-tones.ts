import type { FileHandle } from 'node:fs/promises';
import { bytesHeld, decodeRows, findFaxPlate } from './fax-strips.ts';
import type { Columns } from './kernels/fax-tones.ts';
import { faxRows } from './kernels/fax-tones.ts';
import type { InkTones } from './ink-tones.ts';
import type { ToneSpans } from './tone-spans.ts';
import { middleOf, toneSpans } from './tone-spans.ts';

/** A sum is kept in 16 bits. */
const MOST_SUM = 2 ** 16 - 1;
const FEWEST_PIXELS = 2;

/**
 * Brings a plate in fax group 4 down to tones, straight from its runs: no pixel is ever made.
 *
 * @returns null where the plate is not in fax group 4 and in strips, is shrunk by less than 2 either way or by more than
 * 13 both ways, or is not coded as it must be; then the library says what it is
 * @throws {Refusal} unreadable: not a TIFF, damaged, truncated
 */
export async function faxTones(
  file: FileHandle,
  name: string,
  { width, height }: Pick<InkTones, 'width' | 'height'>,
): Promise<InkTones | null> {
  const plate = await findFaxPlate(file, name);
  if (plate === null || plate.width < width * FEWEST_PIXELS || plate.height < height * FEWEST_PIXELS) return null;
  const [across, down] = [toneSpans(plate.width, width), toneSpans(plate.height, height)];
  if (across.most * down.most > MOST_SUM) return null;
  const rows = faxRows(columnsOf(plate.width, across), bytesHeld(plate));
  const data = new Uint8Array(width * height);
  let band = 0;
  const endBand = (): void => {
    // the rows above the first centre go with those below it
    const scale = band === 0 ? 0 : 1 / down.sums[band - 1]!;
    const tones = rows.endBand(scale, plate.blackIsPaper);
    if (band > 0) data.set(tones, (band - 1) * width);
    band += 1;
  };
  const isWhole = await decodeRows(file, plate, rows, { from: 0, until: plate.height }, (row) => {
    while (row >= down.spans[band]!.end) endBand();
    const { from, to } = down.spans[band]!;
    const middle = middleOf(row - (row % down.block), down.block);
    rows.addRow(to - middle, middle - from);
  });
  if (!isWhole) return null;
  while (band <= height) endBand();
  return { width, height, data };
}

function columnsOf(width: number, { block, spans, sums }: ToneSpans): Columns {
  return {
    width,
    tones: sums.length,
    block,
    spans: Int32Array.from(
      spans,
      ({ first, end, from, to }) => (end - first) | ((to - from) << 8) | ((to - block - 2 * end) << 16),
    ),
    scales: Float32Array.from(sums, (sum) => 255 / sum),
  };
}
