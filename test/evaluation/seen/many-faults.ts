import { dropPage, inTurn, movePage, swapPages } from '../../../demo/book/edits/pages.ts';
import type { Edit } from '../../../demo/book/edits/pages.ts';
import { ARTWORK_FAULTS } from './artwork-faults.ts';
import { CROP_FAULTS } from './crop-faults.ts';
import type { ExcerptName } from './excerpts.ts';
import { PICTURE_FAULTS } from './picture-faults.ts';
import type { Expected, PlantedFault } from './planted-fault.ts';
import { RETOUCH_FAULTS } from './retouch-faults.ts';
import { TEXT_FAULTS } from './text-faults.ts';

const SINGLE = [...CROP_FAULTS, ...PICTURE_FAULTS, ...RETOUCH_FAULTS, ...TEXT_FAULTS, ...ARTWORK_FAULTS];

/** Single faults of an excerpt, by their number there, each on a page of its own, and then the pages disturbed. */
function together(excerpt: ExcerptName, offset: number, disturb: Edit, moves: readonly Expected[]): PlantedFault {
  const taken = new Set(moves.map(({ dummyPage }) => dummyPage));
  const lost = new Set(moves.filter(({ kind }) => kind === 'page-missing').map(({ dummyPage }) => dummyPage));
  const faults: PlantedFault[] = [];
  const here = SINGLE.filter((fault) => fault.excerpt === excerpt && fault.after === undefined);
  for (const fault of [...here.slice(offset), ...here.slice(0, offset)]) {
    const [first] = fault.expected;
    const page = first?.dummyPage ?? null;
    const free = faults.every(({ expected: [other] }) => other?.dummyPage !== page && other?.kind !== first?.kind);
    if (free && !lost.has(page) && faults.length < 4) faults.push(fault);
  }
  const expected = [...faults.flatMap((fault) => fault.expected), ...moves];
  return {
    name: `${faults.length} faults and pages ${[...taken].join(', ')} disturbed (${offset})`,
    excerpt,
    edit: inTurn(...faults.map(({ edit }) => edit), disturb),
    expected,
  };
}

const move = (dummyPage: number): Expected => ({ kind: 'page-moved', dummyPage });
const loss = (dummyPage: number): Expected => ({ kind: 'page-missing', dummyPage });

/** Ten files as they come in a bad week: several faults of several kinds, and the pages not where they were. */
export const MANY_FAULTS: readonly PlantedFault[] = [
  together('winter one', 0, movePage(2, 5), [move(2)]),
  together('winter one', 9, dropPage(5), [loss(5)]),
  together('winter one', 17, movePage(6, 1), [move(6)]),
  together('winter two', 0, movePage(5, 2), [move(5)]),
  together('winter two', 6, movePage(1, 4), [move(1)]),
  together('salt one', 0, movePage(6, 3), [move(6)]),
  together('salt one', 8, dropPage(2), [loss(2)]),
  together('salt two', 0, movePage(6, 2), [move(6)]),
  together('ledge one', 0, movePage(1, 4), [move(1)]),
  together('ledge two', 0, swapPages(3, 4), [{ ...move(3), orDummyPage: 4 }]),
];
