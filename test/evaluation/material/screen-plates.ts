import { mkdir } from 'node:fs/promises';
import type { Mm } from '../../../src/model/index.ts';
import { runOutside } from './outside-tools.ts';

/** How sheets become plates of one bit. */
export interface Screening {
  readonly ppi: number;
  /** Rows of dots an inch, each ink at an angle of its own; null: as the program does it unasked, all inks at one angle. */
  readonly rulingLpi: number | null;
}

/** The usual angles of process inks, thirty degrees apart, yellow between. Common practice, no source. */
const ANGLES = { Cyan: 15, Magenta: 75, Yellow: 0, Black: 45, Default: 45 };
/** A round dot. @source PostScript Language Reference, third edition, 7.4.3 */
const ROUND_DOT = '{ 180 mul cos exch 180 mul cos add 2 div }';
const PT = 72 / 25.4;

/**
 * Screens sheets into plates of one bit: `sheet-1(Cyan).tif` and so on.
 *
 * @param off  everything lies so far to the right and down
 * @source Ghostscript's device tiffsep1 (Debian package `ghostscript`) is the outside screener; its halftone dictionaries
 * are those of the PostScript Language Reference, third edition, 7.4
 */
export async function screenPlates(
  sheets: string,
  folder: string,
  { ppi, rulingLpi }: Screening,
  off: { readonly xMm: Mm; readonly yMm: Mm } = { xMm: 0, yMm: 0 },
): Promise<void> {
  await mkdir(folder, { recursive: true });
  const moved = `${off.xMm * PT} ${-1 * off.yMm * PT} translate`;
  await runOutside('gs', [
    ...['-q', '-dBATCH', '-dNOPAUSE', '-dSAFER', '-sDEVICE=tiffsep1', '-sCompression=g4', `-r${ppi}`],
    `-sOutputFile=${folder}/sheet-%d.tif`,
    ...['-c', `<< /Install { ${moved} ${rulingLpi === null ? '' : screens(rulingLpi)} } >> setpagedevice`],
    ...['-f', sheets],
  ]);
}

function screens(rulingLpi: number): string {
  const one = (angle: number): string =>
    `<< /HalftoneType 1 /AccurateScreens true /Frequency ${rulingLpi} /Angle ${angle} /SpotFunction ${ROUND_DOT} >>`;
  const each = Object.entries(ANGLES).map(([ink, angle]) => `/${ink} ${one(angle)}`);
  return `<< /HalftoneType 5 ${each.join(' ')} >> sethalftone`;
}
