import type { Mm } from '../model/index.ts';
import type { MarkedGrid } from './crop-marks.ts';
import type { Grey } from './grey.ts';
import { thumbnail } from './grey.ts';
import { medianOf } from './place-by-words.ts';
import type { CellTurn } from './plan.ts';

/** Pixels a millimetre of the rough look, and of the closer one around what it found. */
const ROUGH_PX_PER_MM = 0.25;
const CLOSER_PX_PER_MM = 1;
const LEAST_LIKENESS = 0.55;
/** A page in its place is as alike as this even two millimetres beside it; where half of the cells are, they are all. */
const SURE = 0.8;
/** A single page may look so by chance. */
const LEAST_SURE = 2;
/** Drawing and halving round a sheet down by so many pixels; one that is all pages, without an edge, has no more room. */
const LOST_PX = 2;

/**
 * Finds where pages begin on a side that has no crop marks, by laying pages of the dummy over it, whichever way up: as many
 * columns and rows as the sheet has room for, or fewer where those show little. On their sides they are only looked for
 * where upright they are not surely there. To about half a millimetre; measuring each page then tells it exactly.
 *
 * @param sheet  in greys, as the pages, at one resolution
 * @param like  a side whose columns and rows it has, its pages lying the same way; any where absent
 * @returns null where no page is found
 */
export function findGridByMatching(
  sheet: Grey,
  pages: readonly Grey[],
  trimmed: Size,
  like?: MarkedGrid,
): MatchedGrid | null {
  const rough = shrunk(sheet, ROUGH_PX_PER_MM);
  const look = (onSide: boolean): GridFound | null =>
    like !== undefined && like.onSide !== onSide ? null : bestGrid(sheet, rough, pages, trimmed, { onSide, like });
  const upright = look(false);
  const lying = upright?.isSure === true ? null : look(true);
  const best = lying !== null && lying.worth > (upright?.worth ?? 0) ? lying : upright;
  if (best === null) return null;
  const { onSide, counts, found, isSure } = best;
  const closer = shrunk(sheet, CLOSER_PX_PER_MM);
  const placed = found.map((cell) => ({ ...cell, ...closerLook(closer, cell) }));
  const places = (of: 'column' | 'row', at: 'x' | 'y', count: number): (readonly Mm[])[] =>
    Array.from({ length: count }, (_, line) =>
      placed.flatMap((cell) => (cell[of] === line ? [cell[at] / CLOSER_PX_PER_MM] : [])),
    );
  const { width, height } = laid(trimmed, onSide);
  return {
    columnsMm: filled(places('column', 'x', counts.columns), width),
    rowsMm: filled(places('row', 'y', counts.rows), height),
    onSide,
    isSure,
  };
}

/** A grid that was found by matching. */
export interface MatchedGrid extends MarkedGrid {
  /** Several of its cells show a page without doubt. */
  readonly isSure: boolean;
}

interface Size {
  readonly width: Mm;
  readonly height: Mm;
}

function laid({ width, height }: Size, onSide: boolean): Size {
  return onSide ? { width: height, height: width } : { width, height };
}

interface GridFound {
  readonly found: readonly FoundCell[];
  readonly worth: number;
  readonly counts: Counts;
  readonly onSide: boolean;
  readonly isSure: boolean;
}

/** The columns and rows in which most of the dummy is seen, its pages upright or on their sides; null where none is. */
function bestGrid(
  sheet: Grey,
  rough: Grey,
  pages: readonly Grey[],
  trimmed: Size,
  { onSide, like }: { readonly onSide: boolean; readonly like: MarkedGrid | undefined },
): GridFound | null {
  const room = (pixels: number): Mm => (pixels + LOST_PX) / sheet.pxPerMm;
  const size = laid(trimmed, onSide);
  const columns = Math.floor(room(sheet.width) / size.width);
  const rows = Math.floor(room(sheet.height) / size.height);
  const turns = onSide ? ([90, 270] as const) : ([0, 180] as const);
  const templates = pages.flatMap((page) => {
    const small = shrunk(page, ROUGH_PX_PER_MM);
    if (thumbnail(small, 8, 8) === null) return [];
    return turns.map((turnDeg): Template => ({ look: turnedBy(small, turnDeg), turnDeg, page }));
  });
  const counts =
    like === undefined
      ? countsUpTo(columns).flatMap((across) => countsUpTo(rows).map((down) => ({ columns: across, rows: down })))
      : [{ columns: like.columnsMm.length, rows: like.rowsMm.length }];
  let best: GridFound | null = null;
  for (const one of counts.sort((a, b) => b.columns * b.rows - a.columns * a.rows)) {
    const found = cellsOf(one).flatMap((cell) => {
      const place = bestIn(rough, templates, { ...one, ...cell });
      return place === null ? [] : [{ ...cell, ...place }];
    });
    const worth = found.reduce((sum, { likeness }) => sum + (likeness - LEAST_LIKENESS) ** 2, 0);
    const sure = found.filter(({ likeness }) => likeness >= SURE).length;
    const isSure = sure >= LEAST_SURE;
    if (found.length > 0 && (best === null || worth > best.worth)) best = { found, worth, counts: one, onSide, isSure };
    if (2 * sure >= one.columns * one.rows) break;
  }
  return best;
}

interface Counts {
  readonly columns: number;
  readonly rows: number;
}

/** Which page was found and where, in pixels of the rough look. */
interface FoundPlace {
  readonly x: number;
  readonly y: number;
  readonly likeness: number;
  readonly template: Template;
}

/** A page as it is looked for, turned one way or another. */
interface Template {
  readonly look: Grey;
  readonly turnDeg: CellTurn;
  readonly page: Grey;
}

interface FoundCell extends FoundPlace {
  readonly column: number;
  readonly row: number;
}

/** The best place within a pixel of the rough one. */
function closerLook(sheet: Grey, { x, y, template }: FoundPlace): { readonly x: number; readonly y: number } {
  const look = turnedBy(shrunk(template.page, CLOSER_PX_PER_MM), template.turnDeg);
  const times = CLOSER_PX_PER_MM / ROUGH_PX_PER_MM;
  let best = { x: x * times, y: y * times, likeness: -1 };
  for (let top = Math.max(0, (y - 1) * times); top <= (y + 1) * times; top++) {
    for (let left = Math.max(0, (x - 1) * times); left <= (x + 1) * times; left++) {
      const likeness = correlation(sheet, look, left, top);
      if (likeness > best.likeness) best = { x: left, y: top, likeness };
    }
  }
  return best;
}

/** Paper is not twice as long as what is printed on it. Common practice, no source. */
function countsUpTo(most: number): readonly number[] {
  return upTo(most).filter((count) => 2 * count >= most);
}

/** The numbers from 1. */
function upTo(most: number): readonly number[] {
  return Array.from({ length: most }, (_, index) => index + 1);
}

function cellsOf({ columns, rows }: Counts): readonly { readonly column: number; readonly row: number }[] {
  return upTo(rows).flatMap((row) => upTo(columns).map((column) => ({ column: column - 1, row: row - 1 })));
}

/** A column of which no page was found lies a page beside its neighbour. */
function filled(found: readonly (readonly Mm[])[], length: Mm): readonly Mm[] {
  const known = found.map((places) => (places.length === 0 ? null : medianOf(places)));
  return known.map((place, index) => {
    if (place !== null) return place;
    const nearest = known
      .flatMap((other, at) => (other === null ? [] : [{ other, at }]))
      .sort((one, two) => Math.abs(one.at - index) - Math.abs(two.at - index))[0];
    return nearest === undefined ? 0 : nearest.other + (index - nearest.at) * length;
  });
}

function shrunk({ width, height, pxPerMm, data }: Grey, toPxPerMm: number): Grey {
  const factor = pxPerMm / toPxPerMm;
  const size = { width: Math.floor(width / factor), height: Math.floor(height / factor) };
  const out = new Uint8Array(size.width * size.height);
  for (let y = 0; y < size.height; y++) {
    for (let x = 0; x < size.width; x++) {
      let sum = 0;
      let n = 0;
      for (let fromY = Math.floor(y * factor); fromY < Math.floor((y + 1) * factor); fromY++) {
        for (let fromX = Math.floor(x * factor); fromX < Math.floor((x + 1) * factor); fromX++, n++) {
          sum += data[fromY * width + fromX]!;
        }
      }
      out[y * size.width + x] = sum / Math.max(1, n);
    }
  }
  return { ...size, pxPerMm: toPxPerMm, data: out };
}

/** Turned clockwise. */
function turnedBy(grey: Grey, turnDeg: CellTurn): Grey {
  switch (turnDeg) {
    case 0:
      return grey;
    case 180:
      return { ...grey, data: Uint8Array.from(grey.data).reverse() };
    case 90:
      return quarterTurned(grey);
    case 270:
      return turnedBy(quarterTurned(grey), 180);
  }
}

function quarterTurned({ width, height, pxPerMm, data }: Grey): Grey {
  const turned = new Uint8Array(data.length);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) turned[x * height + (height - 1 - y)] = data[y * width + x]!;
  }
  return { width: height, height: width, pxPerMm, data: turned };
}

type Region = Counts & Pick<FoundCell, 'column' | 'row'>;

function bestIn(
  sheet: Grey,
  templates: readonly Template[],
  { row, rows, column, columns }: Region,
): FoundPlace | null {
  const [first] = templates;
  if (first === undefined) return null;
  // the room that pages of this column have when all others keep clear of it
  const { look: one } = first;
  const slackX = Math.max(0, sheet.width - columns * one.width);
  const slackY = Math.max(0, sheet.height - rows * one.height);
  let best: FoundPlace | null = null;
  for (const template of templates) {
    for (let y = row * one.height; y <= row * one.height + slackY; y++) {
      for (let x = column * one.width; x <= column * one.width + slackX; x++) {
        const likeness = correlation(sheet, template.look, x, y);
        if (best === null || likeness > best.likeness) best = { x, y, likeness, template };
      }
    }
  }
  return best !== null && best.likeness >= LEAST_LIKENESS ? best : null;
}

function correlation(sheet: Grey, page: Grey, left: number, top: number): number {
  let [n, a, b, aa, bb, ab] = [0, 0, 0, 0, 0, 0];
  for (let y = 0; y < page.height && top + y < sheet.height; y++) {
    for (let x = 0; x < page.width && left + x < sheet.width; x++, n++) {
      const p = page.data[y * page.width + x]!;
      const q = sheet.data[(top + y) * sheet.width + left + x]!;
      a += p;
      b += q;
      aa += p * p;
      bb += q * q;
      ab += p * q;
    }
  }
  const spreads = (aa - (a * a) / n) * (bb - (b * b) / n);
  return spreads > 0 ? (ab - (a * b) / n) / Math.sqrt(spreads) : 0;
}
