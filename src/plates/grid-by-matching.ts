import type { Mm } from '../model/index.ts';
import type { MarkedGrid } from './crop-marks.ts';
import type { Grey } from './grey.ts';
import { thumbnail } from './grey.ts';
import { medianOf } from './place-by-words.ts';

/** Pixels a millimetre of the rough look, and how far its best place is from the true one at most. */
const ROUGH_PX_PER_MM = 0.25;
const LEAST_LIKENESS = 0.55;

/**
 * Finds where pages begin on a side that has no crop marks, by laying pages of the dummy over it, either way up: as many
 * columns and rows as the sheet has room for. To about two millimetres; measuring each page then tells it exactly.
 *
 * @param sheet  in greys, as the pages, at one resolution
 * @returns null where no page is found
 */
export function findGridByMatching(
  sheet: Grey,
  pages: readonly Grey[],
  trimmed: { readonly width: Mm; readonly height: Mm },
): MarkedGrid | null {
  const columns = Math.floor(sheet.width / sheet.pxPerMm / trimmed.width);
  const rows = Math.floor(sheet.height / sheet.pxPerMm / trimmed.height);
  if (columns < 1 || rows < 1) return null;
  const rough = shrunk(sheet);
  const templates = pages.flatMap((page) => {
    const small = shrunk(page);
    return thumbnail(small, 8, 8) === null ? [] : [small, turnedOver(small)];
  });
  const lefts: Mm[][] = Array.from({ length: columns }, () => []);
  const tops: Mm[][] = Array.from({ length: rows }, () => []);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const found = bestIn(rough, templates, { row, rows, column, columns });
      if (found === null) continue;
      lefts[column]!.push(found.x / ROUGH_PX_PER_MM);
      tops[row]!.push(found.y / ROUGH_PX_PER_MM);
    }
  }
  if (lefts.every((found) => found.length === 0)) return null;
  return { columnsMm: filled(lefts, trimmed.width), rowsMm: filled(tops, trimmed.height) };
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

function shrunk({ width, height, pxPerMm, data }: Grey): Grey {
  const factor = pxPerMm / ROUGH_PX_PER_MM;
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
  return { ...size, pxPerMm: ROUGH_PX_PER_MM, data: out };
}

function turnedOver(grey: Grey): Grey {
  return { ...grey, data: Uint8Array.from(grey.data).reverse() };
}

interface Region {
  readonly row: number;
  readonly rows: number;
  readonly column: number;
  readonly columns: number;
}

function bestIn(
  sheet: Grey,
  templates: readonly Grey[],
  { row, rows, column, columns }: Region,
): { readonly x: number; readonly y: number } | null {
  const [first] = templates;
  if (first === undefined) return null;
  // the room that pages of this column have when all others keep clear of it
  const slackX = Math.max(0, sheet.width - columns * first.width);
  const slackY = Math.max(0, sheet.height - rows * first.height);
  let best: { readonly x: number; readonly y: number; readonly likeness: number } | null = null;
  for (const template of templates) {
    for (let y = row * first.height; y <= row * first.height + slackY; y++) {
      for (let x = column * first.width; x <= column * first.width + slackX; x++) {
        const likeness = correlation(sheet, template, x, y);
        if (best === null || likeness > best.likeness) best = { x, y, likeness };
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
