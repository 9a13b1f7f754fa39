import { expect, test } from 'vitest';
import { bookPages, sidesOf } from '../../../src/archive/index.ts';
import { bookInCatalogue, hashLike, sendFile } from '../catalogue/filled-catalogue.ts';

test('a file of sheets is the book that it was last folded to, and for an earlier report the one of then', async () => {
  const book = await bookInCatalogue();
  const { catalogue, dummy } = book;
  const other = await sendFile(book, 'dummy', hashLike('d1'));
  const third = await sendFile(book, 'dummy', hashLike('d2'));
  const sheets = await sendFile(book, 'plates-input', hashLike('a0'));
  for (const [dummyOf, folding, start] of [
    [dummy, 0, 'f0'],
    [other, 0, 'f1'],
    [dummy, 1, 'f2'],
  ] as const) {
    const [sha256, sides, plan] = [`${start}b`, `${start}5`, `${start}e`].map(hashLike) as [string, string, string];
    for (const blob of [sha256, sides, plan]) await catalogue.blobs.add({ sha256: blob, bytes: 10, at: 6 });
    const pages = [{ pageNumber: 1, contentHash: hashLike(start), widthMm: 210, heightMm: 280 }];
    for (const blob of [sha256, sides]) await catalogue.pages.add({ sha256: blob, pages, at: 6 });
    await catalogue.foldedBooks.add({ fileId: sheets.id, dummyId: dummyOf.id, folding, sha256, plan, sides, at: 6 });
  }
  const blobsOf = async (as?: { readonly dummyId: string; readonly folding: number }) =>
    [await bookPages(catalogue, sheets, as), await sidesOf(catalogue, sheets, as)].map((pages) => pages?.[0]?.sha256);
  // it was said again how they fold
  expect(await blobsOf()).toEqual([hashLike('f2b'), hashLike('f25')]);
  expect(await blobsOf({ dummyId: dummy.id, folding: 1 })).toEqual([hashLike('f2b'), hashLike('f25')]);
  expect(await blobsOf({ dummyId: other.id, folding: 0 })).toEqual([hashLike('f1b'), hashLike('f15')]);
  expect(await blobsOf({ dummyId: dummy.id, folding: 0 })).toEqual([hashLike('f0b'), hashLike('f05')]);
  // nothing was folded to look like this one
  expect(await blobsOf({ dummyId: third.id, folding: 0 })).toEqual([hashLike('f2b'), hashLike('f25')]);
});
