import { excerpt } from '../../../demo/book/edits/pages.ts';
import { FINAL } from '../../../demo/book/preparation.ts';
import type { Preparation } from '../../../demo/book/preparation.ts';
import { NO_MARKS } from '../../../demo/sheets/marks.ts';
import type { PlanOrder, SectionOrder } from '../../../src/plates/index.ts';
import { SHELF } from '../books/shelf.ts';
import type { SheetCase } from './sheet-case.ts';

const { winter, salt } = SHELF;
const INKS: Preparation = { ...FINAL, ppi: 200, coding: 90, outputIntent: false };
const LOSSLESS: Preparation = { ...INKS, coding: 'flate' };
const UNCOATED: Preparation = { ...INKS, tone: 'uncoated' };

/** So many sections of so many pages each. */
function sections(count: number, order: SectionOrder): readonly SectionOrder[] {
  return Array.from({ length: count }, () => order);
}

const sewn = (...of: readonly SectionOrder[]): SheetCase['plan'] => ({ binding: 'sewn', sections: of });
const stitched = (of: readonly SectionOrder[], more: Partial<PlanOrder> = {}): SheetCase['plan'] => ({
  binding: 'saddle-stitched',
  sections: of,
  ...more,
});
const ofWinter = { book: winter, spec: winter.spec };
const ofSalt = { book: salt, spec: salt.spec };
/** Room between first and last page for the collating mark. */
const glued: SheetCase['plan'] = {
  binding: 'perfect-bound',
  sections: sections(4, { pages: 8 }),
  trims: { grindOffMm: 3 },
};
const few = { book: winter, spec: excerpt(winter.spec, [7, 13, 18, 23]) };

/** Unchanged books on sheets: nothing may be raised. 50 sheets. */
export const CLEAN_SHEETS: readonly SheetCase[] = [
  { name: 'two of 16, found', ...ofWinter, revision: FINAL, plan: sewn(...sections(2, { pages: 16 })), told: 'found' },
  {
    name: 'two of 16 without any mark, found',
    ...ofWinter,
    revision: INKS,
    plan: sewn(...sections(2, { pages: 16 })),
    marks: NO_MARKS,
    told: 'found',
  },
  {
    name: 'two of 16, nested, with creep',
    ...ofWinter,
    revision: INKS,
    plan: stitched(sections(2, { pages: 16 }), { creepMm: 0.1 }),
    told: 'given',
  },
  {
    name: 'four of 8, lossless',
    ...ofWinter,
    revision: LOSSLESS,
    plan: sewn(...sections(4, { pages: 8 })),
    told: 'made',
  },
  {
    name: 'eight of 4, nested',
    ...ofWinter,
    revision: INKS,
    plan: stitched(sections(8, { pages: 4 })),
    told: 'found',
  },
  { name: 'one of 32', ...ofWinter, revision: UNCOATED, plan: sewn({ pages: 32 }), told: 'found' },
  {
    name: 'four of 8 from one forme each, work-and-turn',
    ...ofWinter,
    revision: INKS,
    plan: sewn(...sections(4, { pages: 8, working: 'work-and-turn' })),
    told: 'given',
  },
  {
    name: 'four of 8, tumbled between their sides',
    ...ofWinter,
    revision: INKS,
    plan: sewn(...sections(4, { pages: 8, working: 'sheetwise-tumbled', standsDeg: 180 })),
    told: 'found',
  },
  {
    name: 'two of 16, distilled again',
    ...ofWinter,
    revision: INKS,
    plan: sewn(...sections(2, { pages: 16 })),
    told: 'found',
    after: 'distilled again',
  },
  { name: 'three of 8, square', ...ofSalt, revision: INKS, plan: sewn(...sections(3, { pages: 8 })), told: 'found' },
  {
    name: 'six of 4, square, without any mark',
    ...ofSalt,
    revision: INKS,
    plan: sewn(...sections(6, { pages: 4 })),
    marks: NO_MARKS,
    told: 'made',
  },
  { name: 'one of 24, square', ...ofSalt, revision: UNCOATED, plan: sewn({ pages: 24 }), told: 'found' },
  {
    name: 'two of 12, square',
    ...ofSalt,
    revision: LOSSLESS,
    plan: sewn(...sections(2, { pages: 12 })),
    told: 'made',
  },
  {
    name: 'one of 16 and one of 8, square',
    ...ofSalt,
    revision: INKS,
    plan: sewn({ pages: 16 }, { pages: 8 }),
    told: 'given',
  },
  {
    name: 'three of 8 from one forme each, work-and-tumble, square',
    ...ofSalt,
    revision: INKS,
    plan: sewn(...sections(3, { pages: 8, working: 'work-and-tumble' })),
    told: 'given',
  },
  {
    name: 'four of 8, glued, collating marks where they are ground off',
    ...ofWinter,
    revision: INKS,
    plan: glued,
    told: 'given',
  },
  {
    name: 'four of 8, collating marks over the fold',
    ...ofWinter,
    revision: INKS,
    plan: sewn(...sections(4, { pages: 8 })),
    marks: { collating: 'over-the-fold' },
    told: 'found',
  },
  {
    name: 'one of 4 as plates of one bit, all inks at one angle',
    ...few,
    revision: INKS,
    plan: sewn({ pages: 4 }),
    told: 'made',
    after: 'one-bit plates, one angle',
  },
  {
    name: 'three of 4 as plates of one bit',
    book: winter,
    spec: excerpt(winter.spec, [9, 10, 11, 20, 7, 24, 13, 29, 26, 16, 18, 31]),
    revision: INKS,
    plan: sewn(...sections(3, { pages: 4 })),
    told: 'found',
    after: 'one-bit plates',
  },
  {
    name: 'three of 4 as plates of one bit, uncoated, square',
    book: salt,
    spec: excerpt(salt.spec, [1, 2, 3, 4, 6, 9, 10, 16, 24, 14, 18, 21]),
    revision: UNCOATED,
    plan: sewn(...sections(3, { pages: 4 })),
    told: 'given',
    after: 'one-bit plates',
  },
];
