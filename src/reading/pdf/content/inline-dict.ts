import { PDFArray, PDFBool, PDFDict, PDFHexString, PDFName, PDFNull, PDFNumber } from '@cantoo/pdf-lib';
import type { PDFContext, PDFObject } from '@cantoo/pdf-lib';
import { dictEntry } from '../objects.ts';
import { isName } from './operand.ts';
import type { InlineImage, Operand } from './operand.ts';

/**
 * An inline image's dictionary as if it stood in an image object: a colour space that is named by the resources is
 * replaced by what the name stands for.
 *
 * @source ISO 32000-2 8.9.7
 */
export function inlineDict(context: PDFContext, image: InlineImage, resources: PDFDict | undefined): PDFDict {
  const dict = PDFDict.withContext(context);
  for (const [key, value] of image.dict.entries) {
    const named = key === 'ColorSpace' && isName(value) ? colourSpaceOf(resources, value.name) : undefined;
    dict.set(PDFName.of(key), named ?? objectOf(context, value));
  }
  return dict;
}

function colourSpaceOf(resources: PDFDict | undefined, name: string): PDFObject | undefined {
  return dictEntry(resources, 'ColorSpace')?.get(PDFName.of(name));
}

/** An operand as an object of the file. */
function objectOf(context: PDFContext, operand: Operand): PDFObject {
  if (typeof operand === 'number') return PDFNumber.of(operand);
  if (typeof operand === 'boolean') return operand ? PDFBool.True : PDFBool.False;
  if (operand === null) return PDFNull;
  if (!('kind' in operand)) {
    const array = PDFArray.withContext(context);
    for (const element of operand) array.push(objectOf(context, element));
    return array;
  }
  switch (operand.kind) {
    case 'name':
      return PDFName.of(operand.name);
    case 'string':
      return PDFHexString.fromBytes(operand.bytes);
    case 'word':
      return PDFNumber.of(operand.number);
    case 'dict': {
      const dict = PDFDict.withContext(context);
      for (const [key, value] of operand.entries) dict.set(PDFName.of(key), objectOf(context, value));
      return dict;
    }
  }
}
