import type { Mm } from '../model/index.ts';
import type { Grey } from './grey.ts';

/** Where pages begin on a side, by its crop marks or otherwise: columns from the left, rows from the top. */
export interface MarkedGrid {
  readonly columnsMm: readonly Mm[];
  readonly rowsMm: readonly Mm[];
  /** Whether pages lie on their side: as wide as they are high. */
  readonly onSide: boolean;
}

/** Strokes of crop marks; what is shorter is type, what is longer a rule. Common practice, no source. */
const STROKE = { leastMm: 2.2, mostMm: 14, widestMm: 0.8 };
const INK = 215;
const PAPER = 232;
/** Marks of one row of marks lie at one height. */
const SAME_BAND_MM = 0.6;
const SAME_LINE_MM = 0.3;
/** By how much a page between two marks may differ from the trimmed size. */
const SIZE_MM = 0.35;

/** A thin stroke: its middle across, and where it begins and ends along. */
interface Stroke {
  readonly at: Mm;
  readonly from: Mm;
  readonly to: Mm;
}

/**
 * Finds the pages of a side by its crop marks: short thin strokes in line with each other, a page apart.
 *
 * @param sheet  in greys, at about four pixels a millimetre
 * @returns null where the marks tell no column or no row
 */
export function findCropMarks(sheet: Grey, trimmed: { readonly width: Mm; readonly height: Mm }): MarkedGrid | null {
  const [down, across] = [strokesDown(sheet), strokesDown(transposed(sheet))];
  const gridOf = (width: Mm, height: Mm, onSide: boolean): MarkedGrid | null => {
    const [columnsMm, rowsMm] = [pagesAlong(down, width), pagesAlong(across, height)];
    return columnsMm.length > 0 && rowsMm.length > 0 ? { columnsMm, rowsMm, onSide } : null;
  };
  return gridOf(trimmed.width, trimmed.height, false) ?? gridOf(trimmed.height, trimmed.width, true);
}

function transposed({ width, height, pxPerMm, data }: Grey): Grey {
  const turned = new Uint8Array(data.length);
  for (let y = 0; y < height; y++) for (let x = 0; x < width; x++) turned[x * height + y] = data[y * width + x]!;
  return { width: height, height: width, pxPerMm, data: turned };
}

/** Upright strokes with paper on both sides, from the left, then from the top. Walked over row by row, as memory lies. */
function strokesDown(sheet: Grey): readonly Stroke[] {
  const { width, height, pxPerMm } = sheet;
  const least = Math.round(STROKE.leastMm * pxPerMm);
  const most = Math.round(STROKE.mostMm * pxPerMm);
  const aside = Math.ceil((STROKE.widestMm * pxPerMm) / 2) + 1;
  const ended: { readonly x: number; readonly from: number; readonly to: number }[] = [];
  const began = new Int32Array(width).fill(-1);
  const end = (x: number, to: number): void => {
    const from = began[x]!;
    began[x] = -1;
    if (to - from >= least && to - from <= most && standsAlone(sheet, x, from, to, aside)) ended.push({ x, from, to });
  };
  for (let y = 0; y < height; y++) strokesInRow(sheet, y, aside, began, end);
  for (let x = aside; x < width - aside; x++) if (began[x]! >= 0) end(x, height);
  ended.sort((one, other) => one.x - other.x || one.from - other.from);
  return ended.map(({ x, from, to }) => ({
    at: middleOf(sheet, x, from, to, aside),
    from: from / pxPerMm,
    to: to / pxPerMm,
  }));
}

/** Begins and ends strokes in a row: a stroke's pixel is ink and the darkest of its neighbours. */
function strokesInRow(
  { width, data }: Grey,
  y: number,
  aside: number,
  began: Int32Array,
  end: (x: number, to: number) => void,
): void {
  for (let x = aside, at = y * width + aside; x < width - aside; x++, at++) {
    const inked = data[at]! < INK && data[at]! <= data[at - 1]! && data[at]! < data[at + 1]!;
    if (inked) began[x] = began[x]! < 0 ? y : began[x]!;
    else if (began[x]! >= 0) end(x, y);
  }
}

function standsAlone({ width, data }: Grey, x: number, from: number, to: number, aside: number): boolean {
  for (let y = from; y < to; y++) {
    if (data[y * width + x - aside]! < PAPER || data[y * width + x + aside]! < PAPER) return false;
  }
  return true;
}

/** Ink says to a fraction of a pixel where a hairline lies. */
function middleOf({ width, pxPerMm, data }: Grey, x: number, from: number, to: number, aside: number): Mm {
  let ink = 0;
  let moment = 0;
  for (let y = from; y < to; y++) {
    for (let across = x - aside; across <= x + aside; across++) {
      const darkness = 255 - data[y * width + across]!;
      ink += darkness;
      moment += darkness * (across + 0.5);
    }
  }
  return moment / ink / pxPerMm;
}

/** The fullest row of marks decides: the places where one mark has another a page's length behind it. */
function pagesAlong(strokes: readonly Stroke[], length: Mm): readonly Mm[] {
  let best: readonly Mm[] = [];
  for (const band of bandsOf(strokes)) {
    const lines = mergeLines(band.map(({ at }) => at));
    const starts: Mm[] = [];
    for (const line of lines) {
      const end = lines.find((other) => Math.abs(other - line - length) <= SIZE_MM);
      const last = starts.at(-1);
      // pages that share an edge touch; none begins within another
      if (end === undefined || (last !== undefined && line < last + length - SIZE_MM)) continue;
      starts.push((line + end - length) / 2);
    }
    if (starts.length > best.length) best = starts;
  }
  return best;
}

function bandsOf(strokes: readonly Stroke[]): readonly (readonly Stroke[])[] {
  const bands: Stroke[][] = [];
  for (const stroke of strokes) {
    const band = bands.find(
      ([first]) =>
        Math.abs(first!.from - stroke.from) <= SAME_BAND_MM && Math.abs(first!.to - stroke.to) <= SAME_BAND_MM,
    );
    if (band === undefined) bands.push([stroke]);
    else band.push(stroke);
  }
  return bands;
}

function mergeLines(places: readonly Mm[]): readonly Mm[] {
  const lines: Mm[][] = [];
  for (const place of [...places].sort((one, other) => one - other)) {
    const line = lines.at(-1);
    if (line !== undefined && place - line.at(-1)! <= SAME_LINE_MM) line.push(place);
    else lines.push([place]);
  }
  return lines.map((line) => line.reduce((sum, at) => sum + at, 0) / line.length);
}
