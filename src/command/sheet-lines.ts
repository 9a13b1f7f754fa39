import type { Report } from '../model/index.ts';
import { cellName, inkName, planSentence, screenWords, sideName, spotSentence } from '../reporting/report/index.ts';

/** What was taken apart, for a report on imposed sheets: plan, sides with their pages, row by row. */
export function sheetLines({ sheets }: Report): readonly string[] {
  if (sheets === undefined) return [];
  const { sides, separations = [] } = sheets;
  const spots = spotSentence(sheets);
  return [
    planSentence(sheets),
    ...sides.map(({ cells, ...side }) => {
      const rows = [...Map.groupBy(cells, ({ row }) => row).values()];
      return `${sideName(side)}: ${rows.map((row) => row.map(cellName).join(' ')).join(' / ')}`;
    }),
    ...separations.map((plate) => {
      const { ink, file, ppi, coveragePercent } = plate;
      const place = sideName(plate).toLowerCase();
      return `Plate of ${inkName(ink)}, ${place}: ${file}, ${ppi.toFixed(0)} ppi, ${coveragePercent.toFixed(1)} % covered, ${screenWords(plate)}.`;
    }),
    ...(spots === null ? [] : [spots]),
  ];
}
