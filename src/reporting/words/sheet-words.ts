import type { ReportCell, ReportSheets, ReportSide } from '../../model/index.ts';

const PLAN_WORDS = {
  given: 'as given',
  made: 'made from the folds',
  found: 'found from the sheets: confirm it',
} as const;
const PLACE_WORDS = { plan: 'by the plan', marks: 'by crop marks', matching: 'by matching the dummy’s pages' } as const;

/** How sheets were taken apart, in a sentence. */
export function planSentence({ plan, binding, located }: ReportSheets): string {
  return `Plan ${PLAN_WORDS[plan]}, ${binding}; pages located ${PLACE_WORDS[located]}.`;
}

/** The name of a side. */
export function sideName({ sheet, side }: Pick<ReportSide, 'sheet' | 'side'>): string {
  return `Sheet ${sheet}${side === 'both' ? '' : ` ${side}`}`;
}

const HEADS = { 0: '', 90: '→', 180: '↓', 270: '←' } as const;

/** A cell in short: its page, and whither its head points where that is not up. */
export function cellName({ page, turnDeg }: Pick<ReportCell, 'page' | 'turnDeg'>): string {
  return `${page ?? '-'}${HEADS[turnDeg]}`;
}
