import { isProcessInk } from '../../../src/model/index.ts';
import type {
  Binding,
  ReportSeparation,
  ReportSheets,
  ReportSide,
  SaidFolding,
  Working,
} from '../../../src/model/index.ts';

const sides: Readonly<Record<ReportSide['side'], string>> = { front: ', front', back: ', back', both: '' };
const plans: Readonly<Record<ReportSheets['plan'], string>> = {
  given: 'as it was given',
  made: 'made from the folds',
  found: 'found from the sheets',
};
const bindings: Readonly<Record<Binding, string>> = {
  sewn: 'sewn in sections',
  'perfect-bound': 'perfect bound',
  'saddle-stitched': 'saddle stitched',
};

const workings: Readonly<Record<Working, string>> = {
  sheetwise: 'sheetwise',
  'sheetwise-tumbled': 'sheetwise, tumbled',
  'work-and-turn': 'work and turn',
  'work-and-tumble': 'work and tumble',
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
  confirm: 'How these sheets fold was found from the sheets themselves; not confirmed',
  confirmSays:
    'Hold the cells below against the folding plan of the printing house before you release them; where that is another one, say it below. Whoever confirms it is of the printer. Register on the press and the fold itself are not seen here.',
  confirmNow: 'Confirm this plan',
  confirming: 'Confirming the plan',
  confirmed: (name: string, at: string) => `The plan that was found is confirmed by ${name}, ${at}`,
  confirmedSays: 'It was held against the folding plan of the printing house, and is in the record.',
  again: 'These sheets fold otherwise',
  againSays:
    'Say how, and they are checked again by it. What was signed stays on the report that it was signed on; the record names you, and the plans before and after.',
  checkAgain: 'Check them by this',
  sayingAgain: 'Saying how they fold',
  saidAgain: 'Said again',
  saidAgainBy: (folding: SaidFolding, name: string, at: string): string =>
    `${sheets.foldingOf(folding)}; ${name}, ${at}`,
  checkedOtherwise: 'Another folding was said of these sheets',
  checkedOtherwiseSays:
    'They are being checked by it. What is shown here is still of the folding before, and nothing can be released on it.',
  plan: 'Folding plan',
  planOf: (plan: ReportSheets['plan'], binding: ReportSheets['binding']) => `${plans[plan]}; ${bindings[binding]}`,
  located: 'Places of the pages',
  locatedBy: {
    plan: 'by the plan',
    boxes: 'by the boxes that pages were placed with',
    marks: 'by crop marks',
    matching: 'by matching the pages of the dummy',
  } satisfies Record<ReportSheets['located'], string>,
  sides: 'Sides',
  planHash: 'SHA-256 of the plan',
  savePlan: 'Save the plan',
  folding: 'Folded',
  foldingOf: (folding: SaidFolding | null): string => {
    if (folding === null) return 'as it is found from the sheets; nothing else was said';
    if ('plan' in folding) return 'by a plan that was given';
    const section = /^\d+$/.test(folding.fold) ? `in sections of ${folding.fold} pages` : folding.fold;
    return `${section}, ${bindings[folding.bound]}, ${workings[folding.working]}`;
  },
  plates: 'The plates',
  platesSay:
    'Each as it was sent, under the side and the ink that it was taken for. A ruling is an estimate; what is covered is of the whole plate.',
  plateHeads: ['Side', 'Ink', 'Plate and its SHA-256', 'Size', 'Covered', 'Screen'],
  ink: (ink: string) => (isProcessInk(ink) ? ink : `${ink} (spot colour)`),
  plateSize: ({ width, height, ppi }: ReportSeparation) =>
    `${width.toFixed(1)} × ${height.toFixed(1)} mm, ${ppi.toFixed(0)} ppi`,
  covered: ({ coveragePercent }: ReportSeparation) => `${coveragePercent.toFixed(1)} %`,
  screen: ({ bits, rulingLpi, screenDeg }: ReportSeparation) => {
    if (bits === 8) return 'in tones, not screened';
    if (rulingLpi === null || screenDeg === null) return 'no regular screen to be told';
    return `about ${rulingLpi.toFixed(0)} lines an inch at ${screenDeg.toFixed(0)}°`;
  },
  spots: (names: readonly string[]) =>
    `${names.join(', ')}: kept apart. What is printed with ${names.length === 1 ? 'this spot colour' : 'these spot colours'} is not in the pictures here, and is told as missing where the dummy shows it.`,
};
