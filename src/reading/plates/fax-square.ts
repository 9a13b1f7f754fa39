import type { FileHandle } from 'node:fs/promises';
import { bytesHeld, decodeRows, findFaxPlate } from './fax-strips.ts';
import { faxRows, NO_TONES } from './kernels/fax-tones.ts';
import type { PlateSquare, Square } from './ink-tones.ts';

/**
 * A square of a plate in fax group 4 as it stands. What lies above it in its strip is decoded into runs, and no pixel of
 * that is made.
 *
 * @returns null where the plate is not in fax group 4 and in strips, does not hold the square, or is not coded as it must
 * be down to there; then the library says what it is
 * @throws {Refusal} unreadable: not a TIFF, damaged, truncated
 */
export async function faxSquare(
  file: FileHandle,
  name: string,
  { left, top, side }: Square,
): Promise<PlateSquare | null> {
  const plate = await findFaxPlate(file, name);
  if (plate === null || left < 0 || top < 0 || left + side > plate.width || top + side > plate.height) return null;
  const rows = faxRows({ width: plate.width, ...NO_TONES }, bytesHeld(plate));
  const data = new Uint8Array(side * side).fill(plate.blackIsPaper ? 255 : 0);
  const until = top + side;
  const isWhole = await decodeRows(file, plate, rows, { from: top, until }, (row) => {
    if (row < top) return;
    const pixels = data.subarray((row - top) * side, (row - top + 1) * side);
    const changes = rows.row();
    for (let at = 0; at < changes.length; at += 2) {
      const [black, white] = [changes[at]!, changes[at + 1] ?? plate.width];
      if (white > left) pixels.fill(plate.blackIsPaper ? 0 : 255, Math.max(0, black - left), white - left);
      if (white >= left + side) break;
    }
  });
  return isWhole ? { width: side, height: side, data } : null;
}
