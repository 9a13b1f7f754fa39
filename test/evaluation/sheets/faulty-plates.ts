import { excerpt, inTurn } from '../../../demo/book/edits/pages.ts';
import { changeText, rewrite } from '../../../demo/book/edits/type-and-artwork.ts';
import { FINAL } from '../../../demo/book/preparation.ts';
import type { Preparation } from '../../../demo/book/preparation.ts';
import type { FindingKind } from '../../../src/model/index.ts';
import { SHELF } from '../books/shelf.ts';
import type { Wanted } from '../judge/trial.ts';
import type { FaultySheets } from './faulty-sheets.ts';
import type { PlateFault } from './plate-faults.ts';
import type { SheetCase } from './sheet-case.ts';

const { winter } = SHELF;
const INKS: Preparation = { ...FINAL, ppi: 200, coding: 90, outputIntent: false };
const TWO_OF_4: SheetCase['plan'] = { binding: 'sewn', sections: [{ pages: 4 }, { pages: 4 }] };

/** Sides: map and mast; a spread in full bleed; type alone; grey pictures. */
const PLATED: SheetCase = {
  name: 'four sides as plates',
  book: winter,
  spec: excerpt(winter.spec, [9, 10, 11, 20, 7, 23, 13, 12]),
  revision: INKS,
  plan: TWO_OF_4,
  told: 'given',
  after: 'one-bit plates',
};

/** Sides 1 and 3 are set alike: chapters, and frames of one harbour. */
const ALIKE: SheetCase = { ...PLATED, spec: excerpt(winter.spec, [12, 10, 11, 18, 22, 23, 13, 19]) };

/** No angle tells one ink from another. */
const ONE_ANGLE: SheetCase = { ...PLATED, after: 'one-bit plates, one angle' };

/** The lowest page of each side, by which a finding of its plates is told. */
const FIRST_PAGES = [1, 2, 5, 6] as const;

/** What has to be told of a plate: of which side and ink, and more that must be so. */
function told(kind: FindingKind, side: number, ink: string, more: Wanted['exactly'] = {}): Wanted {
  const page = FIRST_PAGES[side - 1]!;
  const place = { sheet: Math.ceil(side / 2), side: side % 2 === 1 ? 'front' : 'back', ink };
  return { kind, dummyPages: [page], revisionPages: [page], exactly: { ...place, ...more } };
}

function faulty(name: string, plateFaults: readonly PlateFault[], wanted: readonly Wanted[], of = PLATED) {
  return { made: { ...of, name: `plates: ${name}`, plateFaults }, wanted } satisfies FaultySheets;
}

const inkOf = (ink: PlateFault['ink']): string => ink.toLowerCase();

const missing = (side: number, ink: PlateFault['ink']): FaultySheets =>
  faulty(
    `${inkOf(ink)} of side ${side} missing`,
    [{ kind: 'missing', side, ink }],
    [told('separation-missing', side, inkOf(ink))],
  );

const empty = (side: number, ink: PlateFault['ink']): FaultySheets =>
  faulty(
    `${inkOf(ink)} of side ${side} empty`,
    [{ kind: 'empty', side, ink }],
    [told('separation-empty', side, inkOf(ink))],
  );

const exchanged = (side: number, ink: PlateFault['ink'], other: PlateFault['ink'], of = PLATED): FaultySheets =>
  faulty(
    `${inkOf(ink)} and ${inkOf(other)} of side ${side} exchanged${of === ONE_ANGLE ? ', all at one angle' : ''}`,
    [{ kind: 'exchanged', side, ink, with: other }],
    [told('inks-exchanged', side, inkOf(ink), { otherInk: inkOf(other) })],
    of,
  );

const ofOtherSides = (ink: PlateFault['ink'], one: number, other: number, of = PLATED): FaultySheets =>
  faulty(
    `${inkOf(ink)} of sides ${one} and ${other} exchanged${of === ALIKE ? ', which are set alike' : ''}`,
    [{ kind: 'other-side', side: one, ink, from: other }],
    [
      told('separation-of-another-sheet', one, inkOf(ink), { belongsToSheet: Math.ceil(other / 2) }),
      told('separation-of-another-sheet', other, inkOf(ink), { belongsToSheet: Math.ceil(one / 2) }),
    ],
    of,
  );

const off = (side: number, ink: PlateFault['ink'], shiftXmm: number, shiftYmm: number): FaultySheets =>
  faulty(
    `${inkOf(ink)} of side ${side} off by ${shiftXmm} and ${shiftYmm} mm`,
    [{ kind: 'off', side, ink, shiftXmm, shiftYmm }],
    [{ ...told('separation-out-of-register', side, inkOf(ink)), figures: { shiftXmm, shiftYmm } }],
  );

const coarse = (side: number, ink: PlateFault['ink'], rulingLpi: number): FaultySheets =>
  faulty(
    `${inkOf(ink)} of side ${side} at ${rulingLpi} lines an inch`,
    [{ kind: 'coarse', side, ink, rulingLpi }],
    [told('screen-coarse', side, inkOf(ink))],
  );

/** Type changed under a coarse black: a digit of a folio in solid black, a word of a caption in grey. */
const CHANGED_UNDER_COARSE: FaultySheets = {
  made: {
    ...PLATED,
    name: 'plates: black of side 4 at 65 lines an inch, a folio and a word of a caption on it changed',
    plateFaults: [{ kind: 'coarse', side: 4, ink: 'Black', rulingLpi: 65 }],
    planted: {
      name: 'a folio and a word',
      excerpt: 'winter, all',
      edit: inTurn(
        changeText(6, 'folio', (line) => ({ ...line, text: line.text.replace('23', '28') })),
        rewrite(7, 'He left this one', 'He made this one'),
      ),
      expected: [],
    },
  },
  wanted: [
    told('screen-coarse', 4, 'black'),
    ...[6, 7].map((page): Wanted => ({ kind: 'text-changed', dummyPages: [page], revisionPages: [page] })),
  ],
};

/** Sheets whose plates were sent or put together wrongly. */
export const FAULTY_PLATES: readonly FaultySheets[] = [
  missing(1, 'Cyan'),
  missing(2, 'Magenta'),
  missing(1, 'Yellow'),
  missing(3, 'Black'),
  missing(4, 'Black'),
  faulty(
    'a further file for yellow of side 2',
    [{ kind: 'doubled', side: 2, ink: 'Yellow' }],
    [told('separation-doubled', 2, 'yellow')],
  ),
  faulty(
    'magenta of side 1 is the file of cyan',
    [{ kind: 'same-file', side: 1, ink: 'Magenta', of: 'Cyan' }],
    [told('separation-doubled', 1, 'magenta')],
  ),
  ofOtherSides('Cyan', 1, 2),
  ofOtherSides('Black', 3, 4),
  ofOtherSides('Black', 1, 3, ALIKE),
  ofOtherSides('Yellow', 1, 3, ALIKE),
  exchanged(1, 'Cyan', 'Magenta'),
  exchanged(2, 'Magenta', 'Yellow'),
  exchanged(3, 'Yellow', 'Black'),
  exchanged(4, 'Cyan', 'Black'),
  exchanged(4, 'Cyan', 'Magenta'),
  exchanged(4, 'Cyan', 'Magenta', ONE_ANGLE),
  off(1, 'Magenta', 0.2, 0),
  off(2, 'Yellow', 0.15, -0.15),
  off(3, 'Black', 0, 0.3),
  off(4, 'Cyan', -0.5, 0.2),
  empty(2, 'Cyan'),
  empty(3, 'Black'),
  empty(4, 'Yellow'),
  coarse(4, 'Black', 65),
  coarse(2, 'Cyan', 85),
  CHANGED_UNDER_COARSE,
];
