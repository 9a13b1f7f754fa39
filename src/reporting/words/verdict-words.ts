import type { Report, Weight } from '../../model/index.ts';
import { formatCount, formatNumber } from './figures.ts';

/** How many findings weigh what. */
export function countWeights(report: Report): Readonly<Record<Weight, number>> {
  const counts = { stop: 0, look: 0, note: 0 };
  for (const { weight } of report.findings) counts[weight] += 1;
  return counts;
}

/** The verdict in one sentence. */
export function verdictSentence(report: Report): string {
  const { stop, look, note } = countWeights(report);
  if (report.verdict === 'match') {
    const notes = note === 0 ? '' : ` ${formatCount(note, 'note stands', 'notes stand')} for the record.`;
    return `The revision matches the dummy within the tolerances.${notes}`;
  }
  const parts = [
    stop === 0 ? '' : formatCount(stop, 'finding stops the plates', 'findings stop the plates'),
    look === 0 ? '' : formatCount(look, 'wants a look', 'want a look'),
    note === 0 ? '' : formatCount(note, 'is a note', 'are notes'),
  ].filter((part) => part !== '');
  return `The revision differs from the dummy: ${joinWords(parts)}.`;
}

/** How far conversion moved the colours of the pages that were measured, or null where none was. */
export function conversionSentence(report: Report): string | null {
  const means = report.pages.flatMap(({ colour }) => (colour === undefined ? [] : [colour.meanDeltaE00]));
  if (means.length === 0) return null;
  const pages = formatCount(means.length, 'pair of pages', 'pairs of pages');
  const least = formatNumber(Math.min(...means), 1);
  const most = formatNumber(Math.max(...means), 1);
  const range = least === most ? least : `${least} to ${most}`;
  return `After registration the colours of ${pages} lie ${range} apart in the mean (CIEDE2000).`;
}

function joinWords(parts: readonly string[]): string {
  return parts.length < 2 ? parts.join('') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1) ?? ''}`;
}
