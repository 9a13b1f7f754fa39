import { MM_PER_INCH } from '../../model/index.ts';
import type { Box, Matrix, PlacedPicture } from '../../model/index.ts';
import { invert, concatenate } from './geometry/matrix.ts';

/** A picture before it has its index, with what tells whether it is a piece of a larger one. */
export interface Piece {
  readonly picture: Omit<PlacedPicture, 'index' | 'window'> & { readonly window: Box | null };
  /** The same object where nothing clipped the pieces apart. */
  readonly clip: object;
  readonly sequence: number;
}

/** Pieces that make one picture, row by row from its top left. */
export interface CutPicture {
  readonly rows: number;
  readonly columns: number;
  readonly pieces: readonly Piece[];
  readonly pixelWidth: number;
  readonly pixelHeight: number;
}

const TOUCHING_MM = 0.1;
/** Photographs are seldom longer than twice their height; strips are. */
const STRIP_RATIO = 2;
const MANY_TILES = 16;

/**
 * Finds pictures that an exporter cut into strips or tiles, among pieces in drawing order. See pictures.md for the rule
 * and its doubt.
 *
 * @returns groups of neighbours, in order; most of one piece
 */
export function joinCutPictures(pieces: readonly Piece[]): readonly CutPicture[] {
  const joined: CutPicture[] = [];
  for (let from = 0; from < pieces.length;) {
    const cut = longestCutPicture(pieces, from);
    joined.push(cut);
    from += cut.pieces.length;
  }
  return joined;
}

/** A piece's place in the first piece's pixels. */
interface Cell {
  readonly piece: Piece;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

function longestCutPicture(pieces: readonly Piece[], from: number): CutPicture {
  const first = pieces[from]!;
  const cells: Cell[] = [
    { piece: first, x: 0, y: 0, width: first.picture.pixelWidth, height: first.picture.pixelHeight },
  ];
  const back = invert(pixelMatrix(first));
  let longest = single(first);
  if (back === null) return longest;
  for (let index = from + 1; index < pieces.length; index += 1) {
    const piece = pieces[index]!;
    const cell = isOfOneMake(first, pieces[index - 1]!, piece) ? cellOf(piece, back, first) : null;
    if (cell === null) break;
    cells.push(cell);
    const grid = gridOf(cells, touchingPixels(first));
    if (grid !== null && looksCut(grid)) longest = grid;
  }
  return longest;
}

function single(piece: Piece): CutPicture {
  const { pixelWidth, pixelHeight } = piece.picture;
  return { rows: 1, columns: 1, pieces: [piece], pixelWidth, pixelHeight };
}

function isOfOneMake(first: Piece, previous: Piece, piece: Piece): boolean {
  const a = first.picture;
  const b = piece.picture;
  return (
    piece.sequence === previous.sequence + 1 &&
    piece.clip === first.clip &&
    a.origin === b.origin &&
    a.colourSpace === b.colourSpace &&
    a.bitsPerComponent === b.bitsPerComponent &&
    a.filter === b.filter &&
    a.softMasked === b.softMasked
  );
}

/** From a piece's pixels to the page. */
function pixelMatrix({ picture }: Piece): Matrix {
  return concatenate([1 / picture.pixelWidth, 0, 0, 1 / picture.pixelHeight, 0, 0], picture.matrix);
}

function touchingPixels({ picture }: Piece): { readonly x: number; readonly y: number } {
  const [a, b, c, d] = picture.matrix;
  return {
    x: (TOUCHING_MM * picture.pixelWidth) / Math.hypot(a, b),
    y: (TOUCHING_MM * picture.pixelHeight) / Math.hypot(c, d),
  };
}

/** Where a piece lies in the first one's pixels, or null where it is turned or scaled otherwise. */
function cellOf(piece: Piece, back: Matrix, first: Piece): Cell | null {
  const { pixelWidth: width, pixelHeight: height } = piece.picture;
  const [a, b, c, d, x, y] = concatenate(pixelMatrix(piece), back);
  const slack = touchingPixels(first);
  // The far corner may be off by as much as edges may gape: exporters round each piece's size.
  const isAlike =
    Math.abs(a - 1) * width < slack.x &&
    Math.abs(d - 1) * height < slack.y &&
    Math.abs(b) * width < slack.y &&
    Math.abs(c) * height < slack.x;
  return isAlike ? { piece, x, y, width, height } : null;
}

/** The cells as full rows and columns, or null where they are none. */
function gridOf(cells: readonly Cell[], slack: { readonly x: number; readonly y: number }): CutPicture | null {
  const sorted = [...cells].sort((p, q) => (Math.abs(p.y - q.y) < slack.y ? p.x - q.x : p.y - q.y));
  const columns = sorted.findIndex((cell) => Math.abs(cell.y - sorted[0]!.y) >= slack.y);
  const inRow = columns === -1 ? sorted.length : columns;
  const rows = sorted.length / inRow;
  if (!Number.isInteger(rows)) return null;
  const top = sorted.slice(0, inRow);
  const left = sorted.filter((_, index) => index % inRow === 0);
  for (const [index, cell] of sorted.entries()) {
    const above = top[index % inRow]!;
    const beside = left[Math.floor(index / inRow)]!;
    const isInPlace =
      cell.width === above.width &&
      cell.height === beside.height &&
      Math.abs(cell.x - above.x) < slack.x &&
      Math.abs(cell.y - beside.y) < slack.y;
    if (!isInPlace) return null;
  }
  if (
    !isChain(
      top.map(({ x, width }) => [x, width]),
      slack.x,
    )
  )
    return null;
  if (
    !isChain(
      left.map(({ y, height }) => [y, height]),
      slack.y,
    )
  )
    return null;
  return {
    rows,
    columns: inRow,
    pieces: sorted.map(({ piece }) => piece),
    pixelWidth: top.reduce((sum, { width }) => sum + width, 0),
    pixelHeight: left.reduce((sum, { height }) => sum + height, 0),
  };
}

function isChain(spans: readonly (readonly [number, number])[], slack: number): boolean {
  return spans.every(([start], index) => {
    const before = spans[index - 1];
    return before === undefined || Math.abs(before[0] + before[1] - start) < slack;
  });
}

/** Whether a grid looks like one picture cut up rather than like photographs hung edge to edge. */
function looksCut({ rows, columns, pieces }: CutPicture): boolean {
  const widths = pieces.slice(0, columns).map(({ picture }) => picture.pixelWidth);
  const heights = pieces.filter((_, index) => index % columns === 0).map(({ picture }) => picture.pixelHeight);
  if (!areCutEvenly(widths) || !areCutEvenly(heights)) return false;
  // The same image again and again is a tiled background.
  if (pieces.every(({ picture }) => picture.samplesHash === pieces[0]!.picture.samplesHash)) return false;
  const [first] = pieces;
  const [a, b, c, d] = first!.picture.matrix;
  const width = Math.hypot(a, b);
  const height = Math.hypot(c, d);
  const hasRest = hasShortRest(widths) || hasShortRest(heights);
  if (rows > 1 && columns > 1) return hasRest || pieces.length >= MANY_TILES;
  const ratio = rows > 1 ? width / height : height / width;
  return ratio >= STRIP_RATIO || (pieces.length > 2 && hasRest);
}

/** All alike within a pixel but the last, which takes what is left. */
function areCutEvenly(sizes: readonly number[]): boolean {
  const [first] = sizes;
  return sizes.every((size, index) =>
    index === sizes.length - 1 ? size <= first! + sizes.length - 1 : Math.abs(size - first!) <= 1,
  );
}

function hasShortRest(sizes: readonly number[]): boolean {
  return sizes.length > 1 && sizes.at(-1)! < sizes[0]! - 1;
}

/** Pixels an inch along both axes of a placed picture, the smaller. @source common practice, no source: through the whole matrix, the smaller axis counts */
export function effectivePpi([a, b, c, d]: Matrix, pixelWidth: number, pixelHeight: number): number {
  return Math.min((pixelWidth * MM_PER_INCH) / Math.hypot(a, b), (pixelHeight * MM_PER_INCH) / Math.hypot(c, d));
}
