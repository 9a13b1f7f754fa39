import type { ReportSheets, ReportSide } from './sheet.ts';

/** What prints a side, or all of it: a plate by its ink, or the page of a file that has every ink. */
export interface ReleasedPlate {
  /** A process ink, the name of a spot colour, or `all`. */
  readonly ink: string;
  /** Of the plate's file, or the content of its page. */
  readonly sha256: string;
}

/** A side of imposed sheets as a release names it. */
export interface ReleasedSide {
  readonly sheet: number;
  readonly side: ReportSide['side'];
  readonly plates: readonly ReleasedPlate[];
}

/** A side whose page has every ink. */
export const ALL_INKS = 'all';

/**
 * The sides of sheets as a release names them, in the order of the report.
 *
 * @param contentOf  of a page of the file that was sent
 */
export function releasedSides(
  {
    sides,
    separations,
  }: Pick<ReportSheets, 'separations'> & {
    readonly sides: readonly Pick<ReportSide, 'sheet' | 'side' | 'filePage'>[];
  },
  contentOf: (filePage: number) => string,
): readonly ReleasedSide[] {
  return sides.map(({ sheet, side, filePage }) => {
    const own = separations?.filter((plate) => plate.sheet === sheet && plate.side === side);
    const plates = own?.map(({ ink, sha256 }) => ({ ink, sha256 }));
    return { sheet, side, plates: plates ?? [{ ink: ALL_INKS, sha256: contentOf(filePage) }] };
  });
}
