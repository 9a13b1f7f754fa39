import { PDFArray, PDFDict, PDFName, PDFRef, PDFStream, type PDFContext, type PDFObject } from '@cantoo/pdf-lib';

/**
 * Entries of a stream's dictionary that lead away from what is drawn. Other dictionaries are followed whole: in many of
 * them the keys are names that the file chose itself.
 */
const NOT_DRAWN: ReadonlySet<PDFName> = new Set(
  ['Metadata', 'PieceInfo', 'StructParent', 'StructParents', 'Alternates', 'OPI'].map((name) => PDFName.of(name)),
);

/**
 * Collects every indirect object that can be reached from `roots`, under its own number, so that nothing need be
 * copied or renumbered; the source is only read. Pages are never reached.
 *
 * @param substitutes  objects that take the place of the source's, by reference; walked like any other
 * @param isNeeded  asked of every object of the source that a reference leads to; without it the reference leads nowhere
 * @returns in ascending object number
 */
export function reachableObjects(
  source: PDFContext,
  roots: readonly PDFObject[],
  substitutes: ReadonlyMap<PDFRef, PDFObject>,
  isNeeded: (ref: PDFRef, object: PDFObject) => boolean,
): [PDFRef, PDFObject][] {
  const found = new Map<PDFRef, PDFObject>();
  const waiting: PDFObject[] = [...roots];
  const seen = new Set<PDFObject>();
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    if (seen.has(next)) continue;
    seen.add(next);
    if (next instanceof PDFRef) {
      const substitute = substitutes.get(next);
      const object = substitute ?? source.lookup(next);
      if (object === undefined || isPageNode(object)) continue;
      if (substitute === undefined && !isNeeded(next, object)) continue;
      found.set(next, object);
      waiting.push(object);
    } else if (next instanceof PDFArray) {
      waiting.push(...next.asArray());
    } else if (next instanceof PDFDict) {
      waiting.push(...next.values());
    } else if (next instanceof PDFStream) {
      for (const [key, value] of next.dict.entries()) if (!NOT_DRAWN.has(key)) waiting.push(value);
    }
  }
  return [...found].sort(([one], [other]) => one.objectNumber - other.objectNumber);
}

function isPageNode(object: PDFObject): boolean {
  if (!(object instanceof PDFDict)) return false;
  const type = object.get(PDFName.of('Type'));
  return type === PDFName.of('Page') || type === PDFName.of('Pages');
}
