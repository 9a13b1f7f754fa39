const oneDigit = new Intl.NumberFormat('en-GB', { minimumFractionDigits: 1, maximumFractionDigits: 1 });
const upToOne = new Intl.NumberFormat('en-GB', { maximumFractionDigits: 1 });

const whole = new Intl.NumberFormat('en-GB', { maximumFractionDigits: 0 });

const pagesOf = (pages: readonly number[]): string =>
  pages.length === 1 ? `Page ${pages[0] ?? ''}` : `Pages ${pages.join(' and ')}`;
const small = (words: string): string => words.charAt(0).toLowerCase() + words.slice(1);

/** The close look at a page. */
export const look = {
  heading: (pages: readonly number[]) => `${pagesOf(pages)}, closely`,
  ways: {
    beside: 'Side by side',
    fade: 'One over the other',
    edge: 'An edge between',
    difference: 'The difference',
  },
  way: 'How the pages lie',
  fade: 'How much of this file shows',
  edge: 'Where the edge stands',
  dummy: (pages: readonly number[]) => (pages.length === 0 ? 'Not in the dummy' : `Dummy, ${small(pagesOf(pages))}`),
  revision: (pages: readonly number[]) => `This file, ${small(pagesOf(pages))}`,
  hold: 'Hold to see the dummy',
  nearer: 'Nearer',
  further: 'Further',
  whole: 'Whole page',
  folded: 'Lay them otherwise',
  differenceOver: 'What differs, in red',
  lines: 'Bleed, trim and safe area',
  windows: 'Windows of the pictures',
  window: (width: number, height: number, ppi: number) =>
    `${oneDigit.format(width)} × ${oneDigit.format(height)} mm, ${whole.format(ppi)} ppi`,
  spread: 'Both pages of the spread',
  single: 'This page alone',
  alike: 'Both as soft as the dummy',
  soft: 'The dummy is soft because its pictures are low in resolution, as they were when it was signed. To judge what is shown rather than how sharply, look at both at a like resolution.',
  findings: 'Found here',
  none: 'Nothing was found here.',
  next: 'Next finding',
  previous: 'Previous finding',
  toFinding: 'Decide it',
  keys: 'Keys: n and p go from finding to finding, the arrows from page to page, + and − nearer and further, 0 the whole page; hold b to see the dummy; d marks what differs.',
  nothingSigned: 'This page is not held against a page of the dummy.',
  gone: 'This page of the dummy is not in the file.',
  pageBefore: 'Page before',
  pageAfter: 'Page after',
  spreadBefore: 'Spread before',
  spreadAfter: 'Spread after',
  view: 'The pages, to be dragged and brought nearer',
  place: 'Place',
  atMm: (x: number, y: number) => `${oneDigit.format(x)} mm from the left, ${oneDigit.format(y)} mm from the top`,
  dummyColour: 'Dummy',
  revisionColour: 'This file',
  lab: (l: number, a: number, b: number) =>
    `L* ${oneDigit.format(l)}  a* ${oneDigit.format(a)}  b* ${oneDigit.format(b)}`,
  apart: 'Apart by',
  deltaE: (value: number) => `${oneDigit.format(value)} (CIEDE2000)`,
  beside: 'Point at the page to read its colours.',
  mm: (mm: number) => `${upToOne.format(mm)} mm`,
  ruler: (mm: number) => `A ruler of ${upToOne.format(mm)} mm`,
  moved: (x: number, y: number) => `${oneDigit.format(Math.hypot(x, y))} mm`,
};
