import type { Report } from '../model/index.ts';
import { cellName, planSentence, sideName } from '../reporting/report/index.ts';

/** What was taken apart, for a report on imposed sheets: plan, sides with their pages, row by row. */
export function sheetLines({ sheets }: Report): readonly string[] {
  if (sheets === undefined) return [];
  const { sides, separations = [] } = sheets;
  return [
    planSentence(sheets),
    ...sides.map(({ cells, ...side }) => {
      const rows = [...Map.groupBy(cells, ({ row }) => row).values()];
      return `${sideName(side)}: ${rows.map((row) => row.map(cellName).join(' ')).join(' / ')}`;
    }),
    ...separations.map(
      ({ ink, file, ppi, bits, coveragePercent, rulingLpi, screenDeg, ...place }) =>
        `Plate of ${ink}, ${sideName(place).toLowerCase()}: ${file}, ${ppi.toFixed(0)} ppi, ${coveragePercent.toFixed(1)} % covered, ${screenWords(bits, rulingLpi, screenDeg)}.`,
    ),
  ];
}

function screenWords(bits: 1 | 8, rulingLpi: number | null, screenDeg: number | null): string {
  if (bits === 8) return 'in tones, not screened';
  if (rulingLpi === null || screenDeg === null) return 'no regular screen to be told';
  return `screen about ${rulingLpi.toFixed(0)} lines an inch at ${screenDeg.toFixed(0)} degrees`;
}
