import type { PageRaster, ReportSeparation, Tolerances } from '../../../model/index.ts';
import { isProcessInk, joinBytes, MM_PER_INCH } from '../../../model/index.ts';
import type { InkGrid, JudgedPlates, PlateSide, SeenSide, SpotOnPage } from '../../../plates/index.ts';
import { judgePlates, sizeWords } from '../../../plates/index.ts';
import type { ReadingTools } from '../../read-file.ts';
import { runJob } from '../../read-file.ts';
import type { LookedFor } from '../read-dummy.ts';
import type { ReadPlates } from './find-plates.ts';
import { LOOK_PPI } from './read-plates.ts';

/** What is to be said of the plates, and where spot colours print. */
export interface JudgedSides extends JudgedPlates {
  readonly spots: readonly SpotOnPage[];
}

/**
 * Looks at the plates of each side where its pages were found, and judges them.
 *
 * @param pages  of the dummy
 */
export async function judgeSides(
  { sets }: ReadPlates,
  seen: readonly SeenSide[],
  pages: readonly (LookedFor | null)[],
  tools: ReadingTools,
  tolerances: Tolerances,
): Promise<JudgedSides> {
  const spots: SpotOnPage[] = [];
  const sides = await Promise.all(
    seen.map(async (side): Promise<PlateSide> => {
      const set = sets[side.filePage - 1]!;
      const standing = side.cells.flatMap(({ cell, box, recognised }) => {
        const looked = pages[(recognised?.page ?? cell.page ?? 0) - 1];
        if (looked == null) return [];
        const turnDeg = recognised?.turnDeg ?? cell.turnDeg;
        return [{ page: cell.page, colours: looked.colours, box, turnDeg }];
      });
      const cells = standing.map(({ colours: { width, height }, box, turnDeg }) => ({
        columns: width,
        rows: height,
        box,
        turnDeg,
      }));
      const looks = set.plates.map(({ plate }) => plate.look);
      const pxPerMm = LOOK_PPI / MM_PER_INCH;
      const together = await runJob(tools, { do: 'plates', looks, pxPerMm, cells }, 1 + looks.length);
      set.plates.forEach(({ ink }, index) => {
        if (!isProcessInk(ink)) spots.push(...spotsOf(ink, together.grids[index]!, standing));
      });
      return {
        seen: side,
        colours: joinBytes(standing.map(({ colours }) => colours.rgb)),
        plates: set.plates.map(({ ink, plate }, index) => ({
          ink,
          file: plate.file,
          sha256: plate.sha256,
          grid: together.grids[index]!,
          shift: plate.shift,
          screen: plate.screen,
          marks: together.marks[index]!,
        })),
        doubled: set.doubled.map(({ ink, plate }) => ({ ink, file: plate.file })),
        strange: set.strange.map(({ ink, plate }) => ({ ink, file: plate.file, size: sizeWords(plate) })),
      };
    }),
  );
  return { ...judgePlates(sides, tolerances), spots };
}

/** A spot colour's ink, page by page. */
function spotsOf(
  ink: string,
  grid: InkGrid,
  standing: readonly { readonly page: number | null; readonly colours: PageRaster }[],
): readonly SpotOnPage[] {
  let at = 0;
  return standing.flatMap(({ page, colours: { width: columns, height: rows } }) => {
    const own = grid.subarray(at, (at += columns * rows));
    return page === null ? [] : [{ page, ink, grid: own, columns, rows }];
  });
}

/** Every plate that was sent, for the report, side by side. */
export function separationsOf({ sets }: ReadPlates, seen: readonly SeenSide[]): readonly ReportSeparation[] {
  return seen.flatMap(({ sheet, side, filePage }) => {
    const { plates, doubled, strange } = sets[filePage - 1]!;
    return [...plates, ...doubled, ...strange].map(({ ink, plate }): ReportSeparation => {
      const { file, sha256, bytes, width, height, header, coveragePercent, screen } = plate;
      return {
        file,
        sha256,
        bytes,
        sheet,
        side,
        ink,
        width,
        height,
        ppi: header.ppi.x,
        bits: header.bits,
        coveragePercent,
        rulingLpi: screen?.rulingLpi ?? null,
        screenDeg: screen?.angleDeg ?? null,
      };
    });
  });
}
