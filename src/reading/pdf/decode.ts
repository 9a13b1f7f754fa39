import { PDFArray, PDFDict, PDFName } from '@cantoo/pdf-lib';
import type { PDFObject } from '@cantoo/pdf-lib';
import { decodeAscii85 } from './filters/ascii85.ts';
import { decodeAsciiHex } from './filters/ascii-hex.ts';
import { inflate } from './filters/flate.ts';
import { decodeLzw } from './filters/lzw.ts';
import { undoPrediction } from './filters/predictor.ts';
import { decodeRunLength } from './filters/run-length.ts';
import { elementsOf, entryOf, numberEntry } from './objects.ts';

/** One filter of a stream, by its full name, with its parameters. */
export interface FilterStep {
  readonly name: string;
  readonly parms: PDFDict | undefined;
}

/** A stream's data after every filter that can be undone without loss, and the filters that are left. */
export interface DecodedData {
  readonly data: Uint8Array;
  /** From the first filter that codes a picture (DCTDecode, JPXDecode, …) or is unknown; empty where all were undone. */
  readonly left: readonly FilterStep[];
}

const FULL_NAMES: Readonly<Record<string, string>> = {
  A85: 'ASCII85Decode',
  AHx: 'ASCIIHexDecode',
  Fl: 'FlateDecode',
  LZW: 'LZWDecode',
  RL: 'RunLengthDecode',
  CCF: 'CCITTFaxDecode',
  DCT: 'DCTDecode',
};

const LOSSLESS: ReadonlySet<string> = new Set([
  'FlateDecode',
  'LZWDecode',
  'ASCII85Decode',
  'ASCIIHexDecode',
  'RunLengthDecode',
  'Crypt',
]);

/**
 * The filters of a stream's dictionary in the order in which they are undone.
 *
 * @source ISO 32000-2 7.3.8.2 table 5; abbreviations 8.9.7 table 92
 */
export function filterSteps(dict: PDFDict): readonly FilterStep[] {
  const filter = entryOf(dict, 'Filter') ?? entryOf(dict, 'F');
  const parms = entryOf(dict, 'DecodeParms') ?? entryOf(dict, 'DP');
  if (filter instanceof PDFName) {
    return [step(filter, parms instanceof PDFArray ? elementsOf(dict.context, parms)[0] : parms)];
  }
  if (!(filter instanceof PDFArray)) return [];
  const all = parms instanceof PDFArray ? elementsOf(dict.context, parms) : [parms];
  return elementsOf(dict.context, filter).flatMap((name, index) =>
    name instanceof PDFName ? [step(name, all[index])] : [],
  );
}

function step(filter: PDFName, parms: PDFObject | undefined): FilterStep {
  const name = filter.decodeText();
  return { name: FULL_NAMES[name] ?? name, parms: parms instanceof PDFDict ? parms : undefined };
}

/** Whether no filter of a stream can be undone without loss, so that its data stay as they are. */
export function staysAsCoded(steps: readonly FilterStep[]): boolean {
  return steps[0] === undefined || !LOSSLESS.has(steps[0].name);
}

/**
 * Undoes the lossless filters, one after the other, up to the first that codes a picture.
 *
 * @param limit  bytes that each step may unfold to
 * @throws {Refusal} too-large: a step unfolds to more
 */
export function decodeData(coded: Uint8Array, steps: readonly FilterStep[], limit: number): DecodedData {
  let data = coded;
  for (const [index, { name, parms }] of steps.entries()) {
    switch (name) {
      case 'FlateDecode':
        data = undoPrediction(inflate(data, limit), predictionOf(parms));
        break;
      case 'LZWDecode':
        data = undoPrediction(decodeLzw(data, numberEntry(parms, 'EarlyChange') !== 0, limit), predictionOf(parms));
        break;
      case 'ASCII85Decode':
        data = decodeAscii85(data);
        break;
      case 'ASCIIHexDecode':
        data = decodeAsciiHex(data);
        break;
      case 'RunLengthDecode':
        data = decodeRunLength(data, limit);
        break;
      case 'Crypt':
        break;
      default:
        return { data, left: steps.slice(index) };
    }
  }
  return { data, left: [] };
}

function predictionOf(parms: PDFDict | undefined): Parameters<typeof undoPrediction>[1] {
  return {
    predictor: numberEntry(parms, 'Predictor') ?? 1,
    colors: numberEntry(parms, 'Colors') ?? 1,
    bitsPerComponent: numberEntry(parms, 'BitsPerComponent') ?? 8,
    columns: numberEntry(parms, 'Columns') ?? 1,
  };
}
