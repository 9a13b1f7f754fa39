/** How samples were predicted from their neighbours before they were compressed. */
export interface Prediction {
  readonly predictor: number;
  readonly colors: number;
  readonly bitsPerComponent: number;
  readonly columns: number;
}

/**
 * Undoes the predictor of FlateDecode and LZWDecode. A last row that is cut short is undone as far as it goes.
 *
 * @source ISO 32000-2 7.4.4.4; PNG (third edition) 9; TIFF 6.0 section 14
 */
export function undoPrediction(data: Uint8Array, prediction: Prediction): Uint8Array {
  const { predictor, colors, bitsPerComponent, columns } = prediction;
  if (predictor < 2 || !isSane(prediction)) return data;
  const rowBytes = Math.ceil((columns * colors * bitsPerComponent) / 8);
  const pixelBytes = Math.max(1, (colors * bitsPerComponent) >> 3);
  return predictor === 2 ? undoTiff(data, rowBytes, prediction) : undoPng(data, rowBytes, pixelBytes);
}

function isSane({ colors, bitsPerComponent, columns }: Prediction): boolean {
  return (
    colors >= 1 && colors <= 64 && [1, 2, 4, 8, 16].includes(bitsPerComponent) && columns >= 1 && columns < 2 ** 26
  );
}

function undoPng(data: Uint8Array, rowBytes: number, pixelBytes: number): Uint8Array {
  const rows = Math.ceil(data.length / (rowBytes + 1));
  const plain = new Uint8Array(rows * rowBytes);
  let length = 0;
  for (let from = 0; from < data.length; from += rowBytes + 1) {
    const filter = data[from]!;
    const row = data.subarray(from + 1, from + 1 + rowBytes);
    plain.set(row, length);
    undoPngRow(plain, length, row.length, length - rowBytes, pixelBytes, filter);
    length += row.length;
  }
  return plain.subarray(0, length);
}

function undoPngRow(p: Uint8Array, at: number, count: number, above: number, step: number, filter: number): void {
  const hasAbove = above >= 0;
  for (let i = 0; i < count; i += 1) {
    const left = i >= step ? p[at + i - step]! : 0;
    const up = hasAbove ? p[above + i]! : 0;
    let guess = 0;
    if (filter === 1) guess = left;
    else if (filter === 2) guess = up;
    else if (filter === 3) guess = (left + up) >> 1;
    else if (filter === 4) guess = paeth(left, up, hasAbove && i >= step ? p[above + i - step]! : 0);
    else return;
    p[at + i] = p[at + i]! + guess;
  }
}

function paeth(left: number, up: number, corner: number): number {
  const toLeft = Math.abs(up - corner);
  const toUp = Math.abs(left - corner);
  const toCorner = Math.abs(left + up - 2 * corner);
  if (toLeft <= toUp && toLeft <= toCorner) return left;
  return toUp <= toCorner ? up : corner;
}

function undoTiff(data: Uint8Array, rowBytes: number, { colors, bitsPerComponent }: Prediction): Uint8Array {
  const plain = data.slice();
  for (let from = 0; from < plain.length; from += rowBytes) {
    const row = plain.subarray(from, from + rowBytes);
    if (bitsPerComponent === 8) {
      for (let i = colors; i < row.length; i += 1) row[i] = row[i]! + row[i - colors]!;
    } else if (bitsPerComponent === 16) {
      for (let i = 2 * colors; i + 1 < row.length; i += 2) {
        const before = row[i - 2 * colors]! * 256 + row[i - 2 * colors + 1]!;
        const sum = before + row[i]! * 256 + row[i + 1]!;
        row[i] = sum >> 8;
        row[i + 1] = sum;
      }
    } else {
      undoTiffBits(row, colors, bitsPerComponent);
    }
  }
  return plain;
}

function undoTiffBits(row: Uint8Array, colors: number, bits: number): void {
  const mask = (1 << bits) - 1;
  const samples = Math.floor((row.length * 8) / bits);
  const previous = new Uint8Array(colors);
  for (let sample = 0; sample < samples; sample += 1) {
    const byte = (sample * bits) >> 3;
    const shift = 8 - bits - ((sample * bits) & 7);
    const value = (((row[byte]! >> shift) & mask) + previous[sample % colors]!) & mask;
    previous[sample % colors] = value;
    row[byte] = (row[byte]! & ~(mask << shift)) | (value << shift);
  }
}
