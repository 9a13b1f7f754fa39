import type { Edit } from '../../../demo/book/edits/pages.ts';
import { addArtwork, changeArtwork } from '../../../demo/book/edits/type-and-artwork.ts';
import { MOSS, RUST, WATER } from '../../../demo/book/ink.ts';
import type { RuleItem } from '../../../demo/book/spec.ts';
import type { ExcerptName } from './excerpts.ts';
import type { PlantedFault } from './planted-fault.ts';

function artwork(excerpt: ExcerptName, page: number, name: string, edit: Edit): PlantedFault {
  return {
    name: `page ${page}: ${name}`,
    excerpt,
    edit,
    expected: [{ kind: 'artwork-changed', dummyPage: page, oftenTold: true }],
  };
}

const lowered = (rule: RuleItem): RuleItem => ({
  ...rule,
  from: { ...rule.from, y: rule.from.y + 1 },
  to: { ...rule.to, y: rule.to.y + 1 },
});

/** Rules, lines of a map, tints, a stamp. A line that moved may be told where it was and where it is. */
export const ARTWORK_FAULTS: readonly PlantedFault[] = [
  artwork(
    'winter one',
    1,
    'a rule lost',
    changeArtwork(1, 'rule', 1, () => null),
  ),
  artwork(
    'winter two',
    6,
    'a hairline lost',
    changeArtwork(6, 'rule', 5, () => null),
  ),
  artwork('winter two', 6, 'a hairline 1 mm too low', changeArtwork(6, 'rule', 4, lowered)),
  artwork(
    'winter one',
    6,
    'the way of the lantern takes another path',
    changeArtwork(6, 'path', 10, (path) => ({ ...path, d: path.d.replace('66 140 C 76 126', '66 140 C 84 142') })),
  ),
  artwork(
    'winter one',
    6,
    'the lake of another colour',
    changeArtwork(6, 'path', 8, (path) => ({ ...path, fill: MOSS })),
  ),
  artwork(
    'winter one',
    6,
    'a contour lost',
    changeArtwork(6, 'path', 4, () => null),
  ),
  artwork(
    'salt one',
    6,
    'a bar lost',
    changeArtwork(6, 'tint', 3, () => null),
  ),
  artwork(
    'salt one',
    6,
    'a bar of another colour',
    changeArtwork(6, 'tint', 2, (tint) => ({ ...tint, ink: WATER })),
  ),
  artwork('salt one', 1, 'the rule 1 mm too low', changeArtwork(1, 'rule', 1, lowered)),
  artwork(
    'ledge one',
    5,
    'the wandering line has another step',
    changeArtwork(5, 'path', 1, (path) => ({
      ...path,
      d: path.d.replace(/(L [\d.]+) ([\d.]+)$/, (_, x: string, y: string) => `${x} ${Number(y) + 6}`),
    })),
  ),
  artwork(
    'ledge one',
    6,
    'a stamp came in',
    addArtwork(6, { kind: 'tint', box: { x: 200, y: 150, width: 22, height: 9 }, ink: RUST }),
  ),
  artwork(
    'winter two',
    4,
    'a dot came in',
    addArtwork(4, { kind: 'tint', box: { x: 180, y: 240, width: 1.2, height: 1.2 }, ink: RUST }),
  ),
];
