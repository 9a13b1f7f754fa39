import type { ReportSheets, ReportSide } from '../../../src/model/index.ts';

const sides: Readonly<Record<ReportSide['side'], string>> = { front: ', front', back: ', back', both: '' };
const plans: Readonly<Record<ReportSheets['plan'], string>> = {
  given: 'as it was given',
  made: 'made from the folds',
  found: 'found from the sheets',
};
const bindings: Readonly<Record<ReportSheets['binding'], string>> = {
  sewn: 'sewn in sections',
  'perfect-bound': 'perfect bound',
  'saddle-stitched': 'saddle stitched',
};

/** Imposed sheets. */
export const sheets = {
  heading: 'The sheets',
  toSheets: 'The sheets',
  toBook: 'Folded, as a book',
  side: (sheet: number, side: ReportSide['side']) => `Sheet ${sheet}${sides[side]}`,
  onSide: (sheet: number, side: ReportSide['side']) => `On sheet ${sheet}${sides[side]}`,
  page: 'Page',
  blank: 'blank',
  /** Which way the head of a page points. */
  turned: { 0: '↑', 90: '→', 180: '↓', 270: '←' },
  turnedSays: { 0: '', 90: ', turned to the right', 180: ', head down', 270: ', turned to the left' },
  none: 'No sheets here',
  noneNext: 'This file was sent as single pages, or its sheets have not been taken apart yet.',
  confirm: 'How these sheets fold was found from the sheets themselves',
  confirmSays:
    'Hold the cells below against the folding plan of the printing house before you release them. Register on the press and the fold itself are not seen here.',
  plan: 'Folding plan',
  planOf: (plan: ReportSheets['plan'], binding: ReportSheets['binding']) => `${plans[plan]}; ${bindings[binding]}`,
  located: 'Places of the pages',
  locatedBy: {
    plan: 'by the plan',
    marks: 'by crop marks',
    matching: 'by matching the pages of the dummy',
  } satisfies Record<ReportSheets['located'], string>,
  sides: 'Sides',
  planHash: 'SHA-256 of the plan',
};
