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

const { winter } = SHELF;
const INKS: Preparation = { ...FINAL, ppi: 200, coding: 90, outputIntent: false };
const TWO_OF_16: SheetCase['plan'] = { binding: 'sewn', sections: [{ pages: 16 }, { pages: 16 }] };

/** Sheets with one thing wrong, and what has to be told of it. */
export interface FaultySheets {
  readonly made: SheetCase;
  readonly wanted: readonly Wanted[];
  /** Pages of the dummy in the places of the folded book, where they are not in order. */
  readonly exchanged?: readonly (readonly [number, number])[];
}

function made(name: string, faults: readonly SheetFault[], told: SheetCase['told']): SheetCase {
  return { name, book: winter, spec: winter.spec, revision: INKS, plan: TWO_OF_16, told, faults };
}

const at = (kind: FindingKind, ...dummyPages: readonly number[]): Wanted => ({ kind, dummyPages, revisionPages: [] });

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
  ...[8, 19, 26].map((page): FaultySheets => ({
    made: made(`page ${page} missing`, [{ kind: 'missing', page }], 'given'),
    wanted: [at('page-missing', page)],
  })),
  ...[1, 2].map((sheet): FaultySheets => ({
    made: made(`sides of sheet ${sheet} exchanged`, [{ kind: 'sides-exchanged', sheet }], 'given'),
    wanted: [at('sides-exchanged')],
  })),
  {
    made: made('sheets exchanged', [{ kind: 'sheets-exchanged', sheets: [1, 2] }], 'given'),
    wanted: [at('section-out-of-order')],
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
    wanted: [at('back-out-of-register')],
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
    wanted: [at('page-off-place', page)],
  })),
];

const EXCERPTS = ['winter one', 'winter two', 'salt one', 'salt two'];

/** Faults of pages that are made up on sheets rightly: they are to be found as well as on single pages. */
const WRONG_PAGES: readonly FaultySheets[] = [...CROP_FAULTS, ...PICTURE_FAULTS, ...RETOUCH_FAULTS, ...TEXT_FAULTS]
  .filter(({ excerpt, after }) => EXCERPTS.includes(excerpt) && after === undefined)
  .map((planted) => onSheet(planted, 'contone'));

/** The same on plates of one bit, where a crop is to be found from 1 mm. */
const ON_PLATES: readonly FaultySheets[] = CROP_FAULTS.filter(
  ({ excerpt, expected: [only] }) =>
    EXCERPTS.includes(excerpt) &&
    Math.hypot(only?.figures?.shiftXmm ?? 0, only?.figures?.shiftYmm ?? 0) >= 1 &&
    only?.figures?.cutMm === undefined,
).map((planted) => onSheet(planted, 'one-bit plates'));

function onSheet(planted: PlantedFault, as: 'contone' | 'one-bit plates'): FaultySheets {
  const { book, spec, revision } = openExcerpt(planted.excerpt);
  const plan: SheetCase['plan'] = { binding: 'sewn', sections: [{ pages: 8 }] };
  const name = `${planted.excerpt}, ${as}: ${planted.name}`;
  const base = { name, book, spec, revision, plan, told: 'given', planted } as const;
  return {
    made: as === 'contone' ? base : { ...base, after: as },
    wanted: planted.expected.map(({ kind, dummyPage, figures, oftenTold }) => ({
      kind,
      dummyPages: dummyPage === null ? [] : [dummyPage],
      revisionPages: dummyPage === null ? [] : [dummyPage],
      ...(figures === undefined ? {} : { figures }),
      ...(oftenTold === undefined ? {} : { oftenTold }),
    })),
  };
}

/** Everything that has to be found on sheets. */
export const FAULTY_SHEETS: readonly FaultySheets[] = [...MADE_UP_WRONG, ...WRONG_PAGES, ...ON_PLATES];
