import { open, readFile } from 'node:fs/promises';
import { PDFContext, PDFDocument, PDFName, PDFObjectCopier } from '@cantoo/pdf-lib';
import type { PDFRef } from '@cantoo/pdf-lib';
import { fileInParts } from '../raster/write-file.ts';

/**
 * Puts files that were made here together as one, their pages in order. One of them is in memory at a time: the pages of
 * plates are pictures of many megabytes.
 *
 * @param paths  of PDF files that this program wrote
 */
export async function joinPages(paths: readonly string[], to: string): Promise<void> {
  const file = fileInParts();
  const out = await open(to, 'w');
  try {
    const write = async (parts: readonly Uint8Array[]): Promise<void> => {
      for (const part of parts) await out.appendFile(part);
    };
    await write([file.header]);
    const context = PDFContext.create();
    const pages: PDFRef[] = [];
    const tree = context.nextRef();
    for (const path of paths) {
      const document = await PDFDocument.load(await readFile(path), { updateMetadata: false });
      const copier = PDFObjectCopier.for(document.context, context);
      for (const { node } of document.getPages()) {
        const page = copier.copy(node);
        page.set(PDFName.of('Parent'), tree);
        pages.push(context.register(page));
      }
      for (const [ref, object] of context.enumerateIndirectObjects()) {
        await write(file.object(ref, object));
        context.delete(ref);
      }
    }
    const root = context.nextRef();
    await write(file.object(tree, context.obj({ Type: 'Pages', Kids: pages, Count: pages.length })));
    await write(file.object(root, context.obj({ Type: 'Catalog', Pages: tree })));
    await write([file.end(root)]);
  } finally {
    await out.close();
  }
}
