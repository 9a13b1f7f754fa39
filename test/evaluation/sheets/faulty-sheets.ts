import type { BookSpec } from '../../../demo/book/spec.ts';
import { FINAL } from '../../../demo/book/preparation.ts';
import type { Preparation } from '../../../demo/book/preparation.ts';
import type { SheetFault } from '../../../demo/sheets/faults.ts';
import type { FindingKind } from '../../../src/model/index.ts';
import { SHELF } from '../books/shelf.ts';
import type { Wanted } from '../judge/trial.ts';
import { CROP_FAULTS } from '../seen/crop-faults.ts';
import { openExcerpt } from '../seen/excerpts.ts';
import { PICTURE_FAULTS } from '../seen/picture-faults.ts';
import type { PlantedFault } from '../seen/planted-fault.ts';
import { RETOUCH_FAULTS } from '../seen/retouch-faults.ts';
import { TEXT_FAULTS } from '../seen/text-faults.ts';
import type { SheetCase } from './sheet-case.ts';

const { winter, salt } = SHELF;
const INKS: Preparation = { ...FINAL, ppi: 200, coding: 90, outputIntent: false };
const TWO_OF_16: SheetCase['plan'] = { binding: 'sewn', sections: [{ pages: 16 }, { pages: 16 }] };

/** Sheets with one thing wrong, and what has to be told of it. */
export interface FaultySheets {
  readonly made: SheetCase;
  readonly wanted: readonly Wanted[];
  /** Pages of the dummy in the places of the folded book, where they are not in order. */
  readonly exchanged?: readonly (readonly [number, number])[];
  /** Pages that stand in another's cell alone: place in the folded book, page of the dummy. */
  readonly standing?: readonly (readonly [number, number])[];
}

function made(name: string, faults: readonly SheetFault[], told: SheetCase['told']): SheetCase {
  return { name, book: winter, spec: winter.spec, revision: INKS, plan: TWO_OF_16, told, faults };
}

const at = (kind: FindingKind, ...dummyPages: readonly number[]): Wanted => ({ kind, dummyPages, revisionPages: [] });
const exactly = (kind: FindingKind, measured: NonNullable<Wanted['exactly']>): Wanted => ({
  ...at(kind),
  exactly: measured,
});

const FOUR_OF_8: SheetCase['plan'] = { binding: 'sewn', sections: Array.from({ length: 4 }, () => ({ pages: 8 })) };
const OVER_THE_FOLD: SheetCase['marks'] = { collating: 'over-the-fold' };

/** The winter book with nothing, or the same type, on the pages of its second and third section. */
function inTheMiddle(make: (spec: BookSpec) => BookSpec['pages'][number]): BookSpec {
  const pages = winter.spec.pages.map((page, index) => (index >= 8 && index < 24 ? make(winter.spec) : page));
  return { ...winter.spec, pages };
}
const BLANK = inTheMiddle(() => ({ name: 'blank', items: [] }));
const OF_ONE_TYPE = inTheMiddle(({ pages }) => ({
  name: 'the same type',
  items: pages.flatMap(({ items }) => items.filter(({ kind }) => kind === 'text')).slice(0, 4),
}));

/** Sections that only their collating marks tell apart, and a mark of another section. */
const MARKED_WRONG: readonly FaultySheets[] = [
  ...(
    [
      ['blank', BLANK],
      ['of one type', OF_ONE_TYPE],
    ] as const
  ).map(([name, spec]): FaultySheets => ({
    made: {
      ...made(`sections that are ${name} exchanged`, [{ kind: 'sheets-exchanged', sheets: [2, 3] }], 'given'),
      ...{ spec, plan: FOUR_OF_8, marks: OVER_THE_FOLD },
    },
    wanted: [
      exactly('section-out-of-order', { sheet: 2, atSheet: 3 }),
      exactly('section-out-of-order', { sheet: 3, atSheet: 2 }),
    ],
  })),
  {
    made: {
      ...made('collating mark of sheet 2 on sheet 4', [{ kind: 'wrong-mark', sheet: 4, markOf: 2 }], 'found'),
      ...{ plan: FOUR_OF_8, marks: OVER_THE_FOLD },
    },
    wanted: [exactly('collating-mark-off', { sheet: 4, marksSection: 2 })],
  },
];

/** Faults of the making up. */
const MADE_UP_WRONG: readonly FaultySheets[] = [
  ...(
    [
      [5, 12],
      [3, 30],
      [21, 24],
    ] as const
  ).map((pages): FaultySheets => ({
    made: made(`pages ${pages.join(' and ')} exchanged`, [{ kind: 'exchanged', pages }], 'found'),
    wanted: [at('pages-exchanged', ...pages)],
    exchanged: [pages],
  })),
  ...(
    [
      [7, 180],
      [13, 180],
      [20, 180],
      [29, 180],
    ] as const
  ).map(([page, degrees]): FaultySheets => ({
    made: made(`page ${page} turned by ${degrees}`, [{ kind: 'turned', page, degrees }], 'found'),
    wanted: [at('page-turned', page)],
  })),
  ...([90, 180, 270] as const).map((degrees): FaultySheets => ({
    made: {
      ...made(`square page 6 turned by ${degrees}`, [{ kind: 'turned', page: 6, degrees }], 'given'),
      ...{ book: salt, spec: salt.spec, plan: { binding: 'sewn', sections: [{ pages: 8 }, { pages: 16 }] } },
    },
    wanted: [at('page-turned', 6)],
  })),
  {
    made: made('cell of page 9 shows page 12', [{ kind: 'wrong-cell', page: 9, shows: 12 }], 'found'),
    wanted: [at('page-in-wrong-cell', 12), at('page-missing', 9)],
    standing: [[9, 12]],
  },
  ...[8, 19, 26].map((page): FaultySheets => ({
    made: made(`page ${page} missing`, [{ kind: 'missing', page }], 'given'),
    wanted: [at('page-missing', page)],
  })),
  ...[1, 2].map((sheet): FaultySheets => ({
    made: made(`sides of sheet ${sheet} exchanged`, [{ kind: 'sides-exchanged', sheet }], 'given'),
    wanted: [exactly('sides-exchanged', { sheet })],
  })),
  {
    made: made('sheets exchanged', [{ kind: 'sheets-exchanged', sheets: [1, 2] }], 'given'),
    wanted: [
      exactly('section-out-of-order', { sheet: 1, atSheet: 2 }),
      exactly('section-out-of-order', { sheet: 2, atSheet: 1 }),
    ],
  },
  ...(
    [
      [1, 0.5, 0],
      [2, 0, -0.7],
      [1, -1, 1],
    ] as const
  ).map(([sheet, shiftXmm, shiftYmm]): FaultySheets => ({
    made: made(
      `back of sheet ${sheet} off by ${shiftXmm} and ${shiftYmm} mm`,
      [{ kind: 'back-off', sheet, shiftXmm, shiftYmm }],
      'given',
    ),
    wanted: [{ ...exactly('back-out-of-register', { sheet }), figures: { shiftXmm, shiftYmm } }],
  })),
  ...(
    [
      [9, 1, 0],
      [16, 0, -1.5],
      [25, 0.8, 0.8],
    ] as const
  ).map(([page, shiftXmm, shiftYmm]): FaultySheets => ({
    made: made(
      `page ${page} off its place by ${shiftXmm} and ${shiftYmm} mm`,
      [{ kind: 'off-place', page, shiftXmm, shiftYmm }],
      'given',
    ),
    wanted: [{ ...at('page-off-place', page), figures: { shiftXmm, shiftYmm } }],
  })),
];

const EXCERPTS = ['winter one', 'winter two', 'salt one', 'salt two'];

/** Faults of pages that are made up on sheets rightly: they are to be found as well as on single pages. */
const WRONG_PAGES: readonly FaultySheets[] = [...CROP_FAULTS, ...PICTURE_FAULTS, ...RETOUCH_FAULTS, ...TEXT_FAULTS]
  .filter(({ excerpt, after }) => EXCERPTS.includes(excerpt) && after === undefined)
  .map((planted) => onSheet(planted, 'contone'));

/** Pages that were taken from an older file when the sheets were made up. */
const OLDER_PAGES: readonly FaultySheets[] = WRONG_PAGES.filter(({ made: { planted } }) =>
  planted?.expected.some(({ kind }) => kind === 'text-changed' || kind === 'picture-replaced'),
)
  .slice(0, 4)
  .map(({ made: { planted, ...rest }, wanted }) => ({
    made: {
      ...rest,
      name: `older page, ${rest.name}`,
      older: { pages: planted!.expected.map(({ dummyPage }) => dummyPage!), planted: planted! },
    },
    wanted,
  }));

/** Whether a crop moved anything by 1 mm: its content, an edge of its window, or what lies near its edges. */
function isByAMillimetre({ expected: [only] }: PlantedFault): boolean {
  const { shiftXmm = 0, shiftYmm = 0, scale = 1, cutMm } = only?.figures ?? {};
  return Math.hypot(shiftXmm, shiftYmm) >= 1 || Math.abs(cutMm?.mm ?? 0) >= 1 || Math.abs(scale - 1) >= 0.03;
}

/** The same on plates of one bit, where a crop is to be found from 1 mm. */
const ON_PLATES: readonly FaultySheets[] = [
  ...CROP_FAULTS.filter(isByAMillimetre),
  ...PICTURE_FAULTS.filter(({ expected }) => expected.every(({ kind }) => kind !== 'picture-coarse')),
  ...RETOUCH_FAULTS,
  ...TEXT_FAULTS,
]
  .filter(({ excerpt, after }) => EXCERPTS.includes(excerpt) && after === undefined)
  .map((planted) => onSheet(planted, 'one-bit plates'));

/** On a sheet of eight; on plates, whose screening takes long, on one of four. */
function onSheet(planted: PlantedFault, as: 'contone' | 'one-bit plates'): FaultySheets {
  const { book, spec, revision } = openExcerpt(planted.excerpt);
  const name = `${planted.excerpt}, ${as}: ${planted.name}`;
  const base = { name, book, spec, revision, told: 'given', planted } as const;
  const wrong = planted.expected.flatMap(({ dummyPage }) => (dummyPage === null ? [] : [dummyPage]));
  const all = spec.pages.map((_, index) => index + 1);
  const pages = as === 'contone' ? all : [...new Set([...wrong, ...all])].slice(0, 4).sort((a, b) => a - b);
  const placeOf = (dummyPage: number | null): readonly number[] =>
    dummyPage === null ? [] : [pages.indexOf(dummyPage) + 1];
  return {
    made:
      as === 'contone'
        ? { ...base, plan: { binding: 'sewn', sections: [{ pages: 8 }] } }
        : { ...base, pages, plan: { binding: 'sewn', sections: [{ pages: 4 }] }, after: as },
    wanted: planted.expected.map(({ kind, dummyPage, figures, oftenTold }) => ({
      kind,
      dummyPages: placeOf(dummyPage),
      revisionPages: placeOf(dummyPage),
      ...(figures === undefined ? {} : { figures }),
      ...(oftenTold === undefined ? {} : { oftenTold }),
    })),
  };
}

/** Everything that has to be found on sheets. */
export const FAULTY_SHEETS: readonly FaultySheets[] = [
  ...MADE_UP_WRONG,
  ...MARKED_WRONG,
  ...WRONG_PAGES,
  ...OLDER_PAGES,
  ...ON_PLATES,
];
