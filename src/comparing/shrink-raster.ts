import type { PageRaster } from '../model/index.ts';

/**
 * A page with the size and resolution of another raster of it, each pixel the mean of the finer ones that lie under it.
 * Renderers draw hairlines at least a pixel wide: drawn finely first, they weigh what they weigh in print.
 *
 * @param fine  at least as large as `like`
 */
export function shrinkRaster(fine: PageRaster, like: PageRaster): PageRaster {
  const { width, height, ppi } = like;
  const columns = spans(fine.width, width);
  const rows = spans(fine.height, height);
  const rgb = new Uint8Array(width * height * 3);
  const sums = new Float32Array(width * 3);
  for (let y = 0; y < height; y++) {
    sums.fill(0);
    const row = rows[y]!;
    for (let from = row.first; from <= row.last; from++) addRow(fine, from, weightOf(row, from), columns, sums);
    for (let at = 0; at < sums.length; at++) rgb[y * width * 3 + at] = Math.round(sums[at]!);
  }
  return { width, height, ppi, rgb };
}

/** Which pixels lie under one of the fewer, and how much of the first and the last. */
interface Span {
  readonly first: number;
  readonly last: number;
  readonly ofFirst: number;
  readonly ofLast: number;
  readonly length: number;
}

function spans(many: number, few: number): readonly Span[] {
  const length = many / few;
  return Array.from({ length: few }, (_, index): Span => {
    const [start, end] = [index * length, (index + 1) * length];
    const first = Math.floor(start);
    const last = Math.min(many - 1, Math.ceil(end) - 1);
    return { first, last, ofFirst: Math.min(end, first + 1) - start, ofLast: end - Math.max(start, last), length };
  });
}

/** Share of the span that one of its pixels makes up. */
function weightOf({ first, last, ofFirst, ofLast, length }: Span, at: number): number {
  return (at === first ? ofFirst : at === last ? ofLast : 1) / length;
}

function addRow(
  { width, rgb }: PageRaster,
  y: number,
  share: number,
  columns: readonly Span[],
  sums: Float32Array,
): void {
  for (let x = 0; x < columns.length; x++) {
    const column = columns[x]!;
    for (let from = column.first; from <= column.last; from++) {
      const weight = share * weightOf(column, from);
      const at = (y * width + from) * 3;
      sums[x * 3]! += weight * rgb[at]!;
      sums[x * 3 + 1]! += weight * rgb[at + 1]!;
      sums[x * 3 + 2]! += weight * rgb[at + 2]!;
    }
  }
}
