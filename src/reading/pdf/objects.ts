import { PDFArray, PDFBool, PDFDict, PDFName, PDFNull, PDFNumber, PDFRef } from '@cantoo/pdf-lib';
import type { PDFContext, PDFObject } from '@cantoo/pdf-lib';
import type { Matrix } from '../../model/index.ts';

const LONGEST_CHAIN = 16;

/** What a reference finally points to; undefined where that is null, missing, or a ring of references. */
export function resolve(context: PDFContext, object: PDFObject | undefined): PDFObject | undefined {
  let current = object;
  for (let step = 0; current instanceof PDFRef; step += 1) {
    if (step === LONGEST_CHAIN) return undefined;
    current = context.lookup(current);
  }
  return current === PDFNull ? undefined : current;
}

/** An entry of a dictionary, references followed; undefined where it is null or missing. */
export function entryOf(dict: PDFDict | undefined, key: string): PDFObject | undefined {
  return dict === undefined ? undefined : resolve(dict.context, dict.get(PDFName.of(key)));
}

/** An entry that is a dictionary (not a stream), or undefined. */
export function dictEntry(dict: PDFDict | undefined, key: string): PDFDict | undefined {
  const value = entryOf(dict, key);
  return value instanceof PDFDict ? value : undefined;
}

/** An entry that is an array, or undefined. */
export function arrayEntry(dict: PDFDict | undefined, key: string): PDFArray | undefined {
  const value = entryOf(dict, key);
  return value instanceof PDFArray ? value : undefined;
}

/** An entry that is a number, or undefined. */
export function numberEntry(dict: PDFDict | undefined, key: string): number | undefined {
  const value = entryOf(dict, key);
  return value instanceof PDFNumber ? value.asNumber() : undefined;
}

/** An entry that is a name, as text without its slash (one character a byte), or undefined. */
export function nameEntry(dict: PDFDict | undefined, key: string): string | undefined {
  const value = entryOf(dict, key);
  return value instanceof PDFName ? value.decodeText() : undefined;
}

/** Whether an entry is the boolean true. */
export function isTrueEntry(dict: PDFDict | undefined, key: string): boolean {
  return entryOf(dict, key) === PDFBool.True;
}

/** The elements of an array, references followed, null as undefined. */
export function elementsOf(context: PDFContext, array: PDFArray): readonly (PDFObject | undefined)[] {
  const elements: (PDFObject | undefined)[] = [];
  for (const element of array.asArray()) elements.push(resolve(context, element));
  return elements;
}

/** An array of exactly `length` numbers, or undefined where it is anything else. */
export function numbersOf(context: PDFContext, object: PDFObject | undefined, length: number): number[] | undefined {
  const array = resolve(context, object);
  if (!(array instanceof PDFArray) || array.size() < length) return undefined;
  const numbers: number[] = [];
  for (const element of elementsOf(context, array).slice(0, length)) {
    if (!(element instanceof PDFNumber)) return undefined;
    numbers.push(element.asNumber());
  }
  return numbers;
}

/** A dictionary's /Matrix; the identity where it has none. @source ISO 32000-2 8.10.2 table 93 */
export function matrixEntry(dict: PDFDict): Matrix {
  const numbers = numbersOf(dict.context, entryOf(dict, 'Matrix'), 6);
  if (numbers === undefined) return [1, 0, 0, 1, 0, 0];
  const [a, b, c, d, e, f] = numbers as [number, number, number, number, number, number];
  return [a, b, c, d, e, f];
}
