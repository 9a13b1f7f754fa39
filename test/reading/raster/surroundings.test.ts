import { expect, test } from 'vitest';
import { pageHash } from '../../../src/reading/pdf/page-hash.ts';
import { surroundingsHash } from '../../../src/reading/raster/surroundings.ts';
import { openSample } from './sample-file.ts';

interface Given {
  readonly profile?: string;
  readonly layers?: readonly string[];
  readonly content?: string;
}

/** A page in a file of a print condition and with layers that it does not use. */
async function hashesOf({ profile, layers = [], content = '0 0 10 10 re f' }: Given) {
  const book = await openSample((objects) => {
    if (profile !== undefined) {
      const DestOutputProfile = objects.stream(profile, { N: 4 });
      objects.inCatalog('OutputIntents', [{ Type: 'OutputIntent', S: 'GTS_PDFX', DestOutputProfile }]);
    }
    const groups = layers.map((Name) => objects.object({ Type: 'OCG', Name }));
    if (groups.length > 0) objects.inCatalog('OCProperties', { OCGs: groups, D: { OFF: groups.slice(1) } });
    return [{ media: [0, 0, 100, 100], content }];
  });
  return { page: pageHash(book, 1), surroundings: surroundingsHash(book) };
}

test('what a page is drawn by beside itself is another where the print condition or the layers are, its content being equal', async () => {
  const given: readonly Given[] = [
    {},
    { profile: 'coated' },
    { profile: 'uncoated' },
    { layers: ['a', 'b'] },
    { layers: ['b', 'a'] },
    { profile: 'coated', layers: ['a', 'b'] },
  ];
  const hashes = await Promise.all(given.map(hashesOf));
  expect(new Set(hashes.map(({ page }) => page)).size).toBe(1);
  expect(new Set(hashes.map(({ surroundings }) => surroundings)).size).toBe(given.length);
});

test('it is the same in two files whose pages differ, and in a file made again', async () => {
  const [one, other] = [
    { profile: 'coated', layers: ['a'] },
    { profile: 'coated', layers: ['a'], content: '1 1 5 5 re f' },
  ];
  const hashes = await Promise.all([one, one, other].map(hashesOf));
  expect(new Set(hashes.map(({ surroundings }) => surroundings)).size).toBe(1);
  expect(hashes[0]!.page).not.toBe(hashes[2]!.page);
});
