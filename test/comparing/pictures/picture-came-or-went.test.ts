import { expect, test } from 'vitest';
import { pictureAdded, pictureMissing } from '../../../src/comparing/pictures/picture-came-or-went.ts';
import { preparePage } from '../../../src/comparing/page-sides.ts';
import { photograph } from '../made-up-scenes.ts';
import { drawPage } from '../sketched-page.ts';

const window = { x: 10, y: 8, width: 40.04, height: 30 };
const page = drawPage({ pictures: [{ window, scene: photograph(1) }], pageNumber: 2 });
const sides = { dummy: preparePage(page), revision: preparePage(drawPage({ pageNumber: 3 })) };
const seen = sides.dummy.pictures[0]!;

test('a missing picture has its place on the dummy page and none on the revision’s', () => {
  expect(pictureMissing(seen, sides)).toEqual({
    kind: 'picture-missing',
    weight: 'stop',
    dummyPage: 2,
    revisionPage: 3,
    box: window,
    revisionBox: null,
    measured: {},
    says: 'A picture of 40.0 mm by 30.0 mm is missing from the page.',
  });
});

test('an added picture has its place on the revision page and none on the dummy’s', () => {
  expect(pictureAdded(seen, sides)).toEqual({
    kind: 'picture-added',
    weight: 'stop',
    dummyPage: 2,
    revisionPage: 3,
    box: null,
    revisionBox: window,
    measured: {},
    says: 'A picture of 40.0 mm by 30.0 mm stands on the page that the dummy does not have.',
  });
});
