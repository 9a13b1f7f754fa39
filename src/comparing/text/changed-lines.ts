import type { Box, Finding, Tolerances, Word } from '../../model/index.ts';
import type { PageSide } from '../page-sides.ts';
import type { FineRasters, ShapeJudgement } from './judge-shapes.ts';
import { hasOtherInk } from './judge-shapes.ts';
import { spanOfLine } from './line-span.ts';
import type { LineShift } from './moved-line.ts';
import { movedAsItIs } from './moved-line.ts';
import { allLinesOf } from './reading-order.ts';
import { tellingOf } from './telling-rasters.ts';
import type { AboutPages } from './text-findings.ts';
import { sayLooksDifferent, sayWordsMoved } from './text-findings.ts';
import type { WordCluster } from './word-clusters.ts';

/** Words whose shapes changed, line by line: one changed letter carries the rest of its line along. */
export function changedLines(changed: ShapeJudgement['changed']): readonly WordCluster[] {
  return [
    ...allLinesOf(changed.dummy).map((dummy) => ({ dummy, revision: [] })),
    ...allLinesOf(changed.revision).map((revision) => ({ dummy: [], revision })),
  ];
}

/** The place of a line that one page tells and the other shows in other shapes, with all of these. */
export function spanOfChangedLine(
  { dummy, revision }: WordCluster,
  sides: { readonly dummy: PageSide; readonly revision: PageSide },
  pictureBoxes: readonly Box[],
): Box {
  const side = dummy.length > 0 ? 'dummy' : 'revision';
  const line = side === 'dummy' ? dummy : revision;
  const others = sides[side].facts.words.filter((word) => !line.includes(word)).map(({ box }) => box);
  const rasters = tellingOf({ dummy: sides.dummy.raster, revision: sides.revision.raster }, side);
  return spanOfLine(line, rasters, [...others, ...pictureBoxes]);
}

/** A line that one page tells and the other shows in other shapes, or elsewhere. */
export function sayChangedLine(
  { dummy, revision }: WordCluster,
  sides: { readonly dummy: PageSide; readonly revision: PageSide },
  fine: FineRasters,
  about: AboutPages,
  { textPlaceMm }: Tolerances,
): Finding {
  const side = dummy.length > 0 ? 'dummy' : 'revision';
  const line = side === 'dummy' ? dummy : revision;
  const rasters = tellingOf({ dummy: sides.dummy.raster, revision: sides.revision.raster }, side);
  const shift = fine && movedAsItIs(line, rasters, textPlaceMm, (place, by) => hasOtherInk(fine, place, side, by));
  if (shift === null) return sayLooksDifferent(about, dummy, revision, 'its shapes');
  const there = line.map((word) => carried(word, shift));
  return side === 'dummy' ? sayWordsMoved(about, line, there) : sayWordsMoved(about, there, line);
}

function carried(word: Word, { xMm, yMm }: LineShift): Word {
  const { box, origin } = word;
  return {
    ...word,
    box: { ...box, x: box.x + xMm, y: box.y + yMm },
    origin: { x: origin.x + xMm, y: origin.y + yMm },
  };
}
