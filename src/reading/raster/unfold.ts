import { inflateSync } from 'node:zlib';
import { PDFName, type PDFDict, type PDFStream } from '@cantoo/pdf-lib';
import { filterSteps } from '../pdf/decode.ts';
import { numberEntry } from '../pdf/objects.ts';

const WHAT_PACKED = ['Filter', 'F', 'DecodeParms', 'DP'].map((name) => PDFName.of(name));

/** A stream that unfolds to more is left to the renderer, which takes it piece by piece. */
const MOST_BYTES = 2 ** 26;

/** A stream as it is written into a slim page. */
export interface WrittenStream {
  readonly dict: PDFDict;
  readonly contents: Uint8Array;
}

/**
 * A stream with its data inflated where that is all that was done to them; else, or where they are damaged, as it is. The
 * renderer inflates in JavaScript, and its engine spends more on compiling that than a page's type takes to draw.
 */
export function unfolded(stream: PDFStream): WrittenStream {
  const dict = stream.dict.clone();
  const contents = stream.getContents();
  const [first, ...further] = filterSteps(dict);
  const isDeflated = first?.name === 'FlateDecode' && (numberEntry(first.parms, 'Predictor') ?? 1) === 1;
  if (!isDeflated || further.length > 0) return { dict, contents };
  try {
    const data = inflateSync(contents, { maxOutputLength: MOST_BYTES });
    for (const key of WHAT_PACKED) dict.delete(key);
    return { dict, contents: data };
  } catch {
    return { dict, contents };
  }
}
