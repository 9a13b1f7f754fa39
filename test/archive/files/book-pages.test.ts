import { expect, test } from 'vitest';
import { bookPages, sidesOf } from '../../../src/archive/index.ts';
import { bookInCatalogue, hashLike, sendFile } from '../catalogue/filled-catalogue.ts';

test('a file of sheets is the book that it was last folded to, and for a report on an earlier dummy the one of then', async () => {
  const book = await bookInCatalogue();
  const { catalogue, dummy } = book;
  const other = await sendFile(book, 'dummy', hashLike('d1'));
  const third = await sendFile(book, 'dummy', hashLike('d2'));
  const sheets = await sendFile(book, 'plates-input', hashLike('a0'));
  for (const [dummyOf, start] of [
    [dummy, 'f0'],
    [other, 'f1'],
  ] as const) {
    const [sha256, sides, plan] = [`${start}b`, `${start}5`, `${start}e`].map(hashLike) as [string, string, string];
    for (const blob of [sha256, sides, plan]) await catalogue.blobs.add({ sha256: blob, bytes: 10, at: 6 });
    const pages = [{ pageNumber: 1, contentHash: hashLike(start), widthMm: 210, heightMm: 280 }];
    for (const blob of [sha256, sides]) await catalogue.pages.add({ sha256: blob, pages, at: 6 });
    await catalogue.foldedBooks.add({ fileId: sheets.id, dummyId: dummyOf.id, sha256, plan, sides, at: 6 });
  }
  const blobsOf = async (dummyId?: string) =>
    [await bookPages(catalogue, sheets, dummyId), await sidesOf(catalogue, sheets, dummyId)].map(
      (pages) => pages?.[0]?.sha256,
    );
  expect(await blobsOf()).toEqual([hashLike('f1b'), hashLike('f15')]);
  expect(await blobsOf(other.id)).toEqual([hashLike('f1b'), hashLike('f15')]);
  expect(await blobsOf(dummy.id)).toEqual([hashLike('f0b'), hashLike('f05')]);
  // nothing was folded to look like this one
  expect(await blobsOf(third.id)).toEqual([hashLike('f1b'), hashLike('f15')]);
});
