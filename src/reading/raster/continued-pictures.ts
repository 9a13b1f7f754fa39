import type { PDFRef } from '@cantoo/pdf-lib';
import type { Book } from '../pdf/book.ts';
import { resolve } from '../pdf/objects.ts';
import type { Continuation } from './joined-edges.ts';
import type { SlimObjects } from './slim-objects.ts';

/**
 * Continues pictures over their joined edges: in place of each, a form that draws the picture stretched by the
 * continuation, clipped to a band along those edges, and the picture itself over it.
 */
export function continuePictures(
  book: Book,
  continuations: ReadonlyMap<PDFRef, Continuation>,
  objects: SlimObjects,
): void {
  for (const [ref, { left, right, top, bottom }] of continuations) {
    const picture = objects.substitutes.get(ref) ?? resolve(book.context, ref);
    if (picture === undefined) continue;
    const inner = objects.add(picture);
    const [width, height] = [1 + left + right, 1 + top + bottom];
    const outside = `${number(-left)} ${number(-bottom)} ${number(width)} ${number(height)} re`;
    const inside = `${number(left)} ${number(bottom)} ${number(1 - left - right)} ${number(1 - top - bottom)} re`;
    const stretched = `${number(width)} 0 0 ${number(height)} ${number(-left)} ${number(-bottom)} cm`;
    const form = objects.stream(`q ${outside} ${inside} W* n ${stretched} /I Do Q /I Do`, {
      Type: 'XObject',
      Subtype: 'Form',
      BBox: [-1, -1, 2, 2],
      Resources: objects.scratch.obj({ XObject: objects.scratch.obj({ I: inner }) }),
    });
    objects.substitutes.set(ref, form);
  }
}

function number(value: number): string {
  return value.toFixed(8);
}
