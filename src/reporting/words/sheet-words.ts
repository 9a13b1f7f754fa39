import type { ReportCell, ReportSeparation, ReportSheets, ReportSide } from '../../model/index.ts';
import { isProcessInk } from '../../model/index.ts';

const PLAN_WORDS = {
  given: 'as given',
  made: 'made from the folds',
  found: 'found from the sheets (to be confirmed)',
} as const;
const PLACE_WORDS = {
  plan: 'by the plan',
  boxes: 'by the boxes that pages were placed with',
  marks: 'by crop marks',
  matching: 'by matching the dummy’s pages',
} as const;

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

/** Where the picture of a side comes from: a page of the file, or its plates. */
export function sideSource({ sheets, side }: { readonly sheets: ReportSheets; readonly side: ReportSide }): string {
  const plates = platesOf(sheets, side);
  if (plates.length === 0) return `page ${side.filePage} of ${sheets.filePages} in the file`;
  const inks = [...new Set(plates.map(({ ink }) => ink).filter(isProcessInk))];
  return inks.length === 0 ? 'no process ink' : `put together from ${inks.join(', ')}`;
}

/** The plates that were sent for a side. */
function platesOf(
  { separations = [] }: Pick<ReportSheets, 'separations'>,
  { sheet, side }: Pick<ReportSide, 'sheet' | 'side'>,
): readonly ReportSeparation[] {
  return separations.filter((one) => one.sheet === sheet && one.side === side);
}

/** The ink of a plate; a spot colour is called one. */
export function inkName(ink: string): string {
  return isProcessInk(ink) ? ink : `${ink} (spot colour)`;
}

/** How a plate is screened. */
export function screenWords({ bits, rulingLpi, screenDeg }: ReportSeparation): string {
  if (bits === 8) return 'in tones, not screened';
  if (rulingLpi === null || screenDeg === null) return 'no regular screen to be told';
  return `about ${rulingLpi.toFixed(0)} lines an inch at ${screenDeg.toFixed(0)} degrees`;
}

/** What the pictures of sides leave out; null where there is no spot colour. */
export function spotSentence({ separations = [] }: Pick<ReportSheets, 'separations'>): string | null {
  const spots = [...new Set(separations.map(({ ink }) => ink).filter((ink) => !isProcessInk(ink)))];
  if (spots.length === 0) return null;
  const [colour, is] = spots.length === 1 ? ['spot colour', 'is'] : ['spot colours', 'are'];
  return `The ${colour} ${spots.join(', ')} ${is} kept apart: what is printed with ${spots.length === 1 ? 'it' : 'them'} is not in the pictures of sides and pages, and is told as missing where the dummy shows it.`;
}
