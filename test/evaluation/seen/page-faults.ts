import {
  addPage,
  dropPage,
  emptyPage,
  inTurn,
  movePage,
  repeatPage,
  resizePage,
  swapPages,
  turnPage,
} from '../../../demo/book/edits/pages.ts';
import { SHELF } from '../books/shelf.ts';
import type { ExcerptName } from './excerpts.ts';
import type { PlantedFault } from './planted-fault.ts';

function strange(book: 'winter' | 'salt' | 'ledge', pageNumber: number) {
  const page = SHELF[book].spec.pages[pageNumber - 1];
  if (page === undefined) throw new Error(`there is no page ${pageNumber}`);
  return page;
}

function moved(excerpt: ExcerptName, from: number, to: number): PlantedFault {
  return {
    name: `page ${from} carried to ${to}`,
    excerpt,
    edit: movePage(from, to),
    expected: [{ kind: 'page-moved', dummyPage: from }],
  };
}

function swapped(excerpt: ExcerptName, one: number): PlantedFault {
  return {
    name: `pages ${one} and ${one + 1} exchanged`,
    excerpt,
    edit: swapPages(one, one + 1),
    expected: [{ kind: 'page-moved', dummyPage: one, orDummyPage: one + 1 }],
  };
}

function missing(excerpt: ExcerptName, page: number): PlantedFault {
  return {
    name: `page ${page} lost`,
    excerpt,
    edit: dropPage(page),
    expected: [{ kind: 'page-missing', dummyPage: page }],
  };
}

function emptied(excerpt: ExcerptName, page: number): PlantedFault {
  return {
    name: `page ${page} blank`,
    excerpt,
    edit: emptyPage(page),
    expected: [{ kind: 'page-emptied', dummyPage: page }],
  };
}

function repeated(excerpt: ExcerptName, page: number, at: number): PlantedFault {
  return {
    name: `page ${page} again at ${at}`,
    excerpt,
    edit: repeatPage(page, at),
    expected: [{ kind: 'page-repeated', dummyPage: page }],
  };
}

function turned(excerpt: ExcerptName, page: number, degrees: 90 | 180 | 270): PlantedFault {
  return {
    name: `page ${page} turned by ${degrees}`,
    excerpt,
    edit: turnPage(page, degrees),
    expected: [{ kind: 'page-turned', dummyPage: page, figures: { degrees } }],
  };
}

function resized(excerpt: ExcerptName, page: number, width: number, height: number): PlantedFault {
  return {
    name: `page ${page} is ${width} x ${height} mm`,
    excerpt,
    edit: resizePage(page, { width, height }),
    expected: [{ kind: 'page-resized', dummyPage: page }],
  };
}

/** Pages out of order, lost, strange, shown twice, blank, of another size, turned. */
export const PAGE_FAULTS: readonly PlantedFault[] = [
  moved('winter, all', 30, 4),
  moved('winter three', 2, 8),
  moved('ledge one', 5, 2),
  swapped('salt, all', 8),
  swapped('winter three', 3),
  {
    name: 'two pages carried, 1 to 5 and 6 to 2',
    excerpt: 'salt two',
    edit: inTurn(movePage(1, 5), movePage(6, 1)),
    expected: [
      { kind: 'page-moved', dummyPage: 1 },
      { kind: 'page-moved', dummyPage: 6 },
    ],
  },
  missing('salt one', 3),
  missing('winter one', 6),
  missing('ledge two', 1),
  {
    name: 'a strange page at 3',
    excerpt: 'salt one',
    edit: addPage(3, strange('salt', 16)),
    expected: [{ kind: 'page-added', dummyPage: null }],
  },
  {
    name: 'a strange page of type at the end',
    excerpt: 'ledge two',
    edit: addPage(7, strange('ledge', 12)),
    expected: [{ kind: 'page-added', dummyPage: null }],
  },
  repeated('ledge one', 2, 6),
  repeated('winter three', 1, 9),
  emptied('winter one', 3),
  emptied('salt two', 4),
  emptied('ledge one', 6),
  resized('salt one', 3, 213, 210),
  resized('ledge two', 1, 280, 211),
  turned('winter one', 2, 90),
  turned('salt one', 6, 180),
  turned('salt two', 6, 90),
  turned('ledge one', 2, 270),
  turned('winter three', 3, 180),
];
