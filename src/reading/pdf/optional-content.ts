import { PDFArray, PDFDict, PDFName } from '@cantoo/pdf-lib';
import type { PDFObject } from '@cantoo/pdf-lib';
import type { Book } from './book.ts';
import { arrayEntry, dictEntry, elementsOf, entryOf, nameEntry } from './objects.ts';

const DEEPEST_EXPRESSION = 50;

/** Tells whether a layer's marks are drawn when nobody switched any layer. */
export interface LayerStates {
  /** @param object  an optional content group or membership dictionary; anything else is visible */
  isVisible(object: PDFObject | undefined): boolean;
}

const known = new WeakMap<Book, LayerStates>();

/**
 * The layers' states by the document's default configuration.
 *
 * @source ISO 32000-2 8.11.2, 8.11.4.3
 */
export function layerStates(book: Book): LayerStates {
  const before = known.get(book);
  if (before !== undefined) return before;
  const config = dictEntry(dictEntry(book.catalog, 'OCProperties'), 'D');
  const isOnByDefault = nameEntry(config, 'BaseState') !== 'OFF';
  const exceptions = new Set<PDFObject>();
  for (const group of members(config, isOnByDefault ? 'OFF' : 'ON')) exceptions.add(group);
  const isOn = (group: PDFObject): boolean => exceptions.has(group) !== isOnByDefault;
  const states: LayerStates = {
    isVisible(object) {
      if (!(object instanceof PDFDict)) return true;
      return nameEntry(object, 'Type') === 'OCMD' ? isMembershipVisible(object, isOn) : isOn(object);
    },
  };
  known.set(book, states);
  return states;
}

type IsOn = (group: PDFObject) => boolean;

function members(dict: PDFDict | undefined, key: string): readonly PDFObject[] {
  const array = arrayEntry(dict, key);
  if (dict === undefined || array === undefined) return [];
  return elementsOf(dict.context, array).filter((element) => element !== undefined);
}

function isMembershipVisible(membership: PDFDict, isOn: IsOn): boolean {
  const expression = arrayEntry(membership, 'VE');
  if (expression !== undefined) return evaluate(expression, membership, isOn, 0);
  const single = dictEntry(membership, 'OCGs');
  const groups = single === undefined ? members(membership, 'OCGs') : [single];
  if (groups.length === 0) return true;
  switch (nameEntry(membership, 'P') ?? 'AnyOn') {
    case 'AllOn':
      return groups.every(isOn);
    case 'AnyOff':
      return !groups.every(isOn);
    case 'AllOff':
      return !groups.some(isOn);
    default:
      return groups.some(isOn);
  }
}

function evaluate(expression: PDFObject | undefined, membership: PDFDict, isOn: IsOn, depth: number): boolean {
  if (expression instanceof PDFDict) return isOn(expression);
  if (!(expression instanceof PDFArray) || depth > DEEPEST_EXPRESSION) return true;
  const [operator, ...operands] = elementsOf(membership.context, expression);
  const values = operands.map((operand) => evaluate(operand, membership, isOn, depth + 1));
  switch (operator instanceof PDFName ? operator.decodeText() : '') {
    case 'And':
      return values.every(Boolean);
    case 'Or':
      return values.some(Boolean);
    case 'Not':
      return values[0] !== true;
    default:
      return true;
  }
}

/** Whether an object that may carry /OC (an image, a form, an annotation) is drawn. */
export function isShown(layers: LayerStates, dict: PDFDict): boolean {
  return layers.isVisible(entryOf(dict, 'OC'));
}
