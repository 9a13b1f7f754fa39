import { PDFDict, PDFRef } from '@cantoo/pdf-lib';
import type { PDFContext, PDFObject } from '@cantoo/pdf-lib';
import { Refusal } from '../../model/index.ts';
import { arrayEntry, entryOf, nameEntry, numberEntry, resolve } from './objects.ts';

const INHERITABLE = ['Resources', 'MediaBox', 'CropBox', 'Rotate'] as const;
const DEEPEST_TREE = 200;

/** An entry that a page takes from the nodes above it. @source ISO 32000-2 7.7.3.4 */
export type Inheritable = (typeof INHERITABLE)[number];

/** A page's dictionary and what it inherits. */
export interface PageNode {
  /** From 1, in file order. */
  readonly pageNumber: number;
  readonly dict: PDFDict;
  readonly inherited: Readonly<Partial<Record<Inheritable, PDFObject>>>;
}

/**
 * The pages below a document's root, in order. A page that is hung into the tree twice counts twice; a node that stands
 * above itself is passed over.
 *
 * @throws {Refusal} unreadable: no page tree, no page, or a tree deeper than 200; too-large: more than `most` pages
 */
export function collectPages(context: PDFContext, file: string, most: number): readonly PageNode[] {
  const root = resolve(context, context.trailerInfo.Root);
  const top = root instanceof PDFDict ? entryOf(root, 'Pages') : undefined;
  if (!(top instanceof PDFDict)) {
    throw new Refusal('unreadable', { file, reason: 'its page tree is missing' });
  }
  const pages: PageNode[] = [];
  const above = new Set<PDFDict>();
  const visit = (node: PDFDict, inherited: PageNode['inherited'], isRoot: boolean): void => {
    if (above.has(node)) return;
    if (above.size > DEEPEST_TREE) {
      throw new Refusal('unreadable', { file, reason: `its page tree is deeper than ${DEEPEST_TREE} levels` });
    }
    const own = { ...inherited };
    for (const key of INHERITABLE) {
      const value = entryOf(node, key);
      if (value !== undefined) own[key] = value;
    }
    const kids = arrayEntry(node, 'Kids');
    if (kids === undefined || nameEntry(node, 'Type') === 'Page') {
      if (isRoot && nameEntry(node, 'Type') !== 'Page') return;
      pages.push({ pageNumber: pages.length + 1, dict: node, inherited: own });
      if (pages.length > most) {
        throw new Refusal('too-large', {
          what: file,
          limit: most,
          found: Math.max(pages.length, numberEntry(top, 'Count') ?? 0),
          unit: 'pages',
        });
      }
      return;
    }
    above.add(node);
    for (const kid of kids.asArray()) {
      const dict = resolve(context, kid);
      if (dict instanceof PDFDict) {
        visit(dict, own, false);
      } else {
        throw new Refusal('unreadable', { file, reason: missingPage(pages.length + 1, kid) });
      }
    }
    above.delete(node);
  };
  visit(top, {}, true);
  if (pages.length === 0) throw new Refusal('unreadable', { file, reason: 'it has no pages' });
  return pages;
}

function missingPage(pageNumber: number, kid: PDFObject): string {
  const where = kid instanceof PDFRef ? ` (object ${kid.objectNumber})` : '';
  return `page ${pageNumber} is named in its page tree but is not in the file${where}: damaged or truncated`;
}
