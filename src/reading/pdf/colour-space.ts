import { PDFArray, PDFName, PDFRawStream } from '@cantoo/pdf-lib';
import type { PDFContext, PDFObject } from '@cantoo/pdf-lib';
import { elementsOf, numberEntry, resolve } from './objects.ts';

const SHORT_NAMES: Readonly<Record<string, string>> = {
  G: 'DeviceGray',
  RGB: 'DeviceRGB',
  CMYK: 'DeviceCMYK',
  CalCMYK: 'DeviceCMYK',
  I: 'Indexed',
};
const DEEPEST = 4;

/**
 * A colour space by its family: `DeviceCMYK`, `ICCBased(4)`, `Indexed(DeviceRGB)`, `Separation(DeviceCMYK)` (what it is
 * converted to), `DeviceN(3)`, `Lab`, …; `unknown` where the file says none.
 *
 * @source ISO 32000-2 8.6.3 table 61
 */
export function colourSpaceFamily(context: PDFContext, object: PDFObject | undefined, depth = 0): string {
  const space = resolve(context, object);
  if (space instanceof PDFName) return fullName(space);
  if (!(space instanceof PDFArray) || depth > DEEPEST) return 'unknown';
  const [first, second, third] = elementsOf(context, space);
  if (!(first instanceof PDFName)) return 'unknown';
  const family = fullName(first);
  switch (family) {
    case 'ICCBased':
      return `ICCBased(${second instanceof PDFRawStream ? (numberEntry(second.dict, 'N') ?? '?') : '?'})`;
    case 'Indexed':
      return `Indexed(${colourSpaceFamily(context, second, depth + 1)})`;
    case 'Separation':
      return `Separation(${colourSpaceFamily(context, third, depth + 1)})`;
    case 'DeviceN':
      return `DeviceN(${second instanceof PDFArray ? second.size() : '?'})`;
    default:
      return family;
  }
}

function fullName(name: PDFName): string {
  const text = name.decodeText();
  return SHORT_NAMES[text] ?? text;
}
