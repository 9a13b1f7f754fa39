import type { Binding } from './folding.ts';
import type { Box, Mm } from './measure.ts';
import type { ReportSeparation } from './separation.ts';

/** A cell of a side in the report: which page the plan has there, and where it was found. */
export interface ReportCell {
  /** The page that belongs there, from 1; null for a blank. */
  readonly page: number | null;
  readonly row: number;
  readonly column: number;
  /** On the sheet: mm from its top left corner, y down. */
  readonly box: Box;
  readonly turnDeg: 0 | 90 | 180 | 270;
}

/** A side of a sheet in the report. */
export interface ReportSide {
  readonly sheet: number;
  readonly side: 'front' | 'back' | 'both';
  /** The page of the file, from 1. */
  readonly filePage: number;
  readonly width: Mm;
  readonly height: Mm;
  readonly cells: readonly ReportCell[];
}

/** What a report on imposed sheets says beside its pages, which are those of the folded book. */
export interface ReportSheets {
  /** Whether the plan was given, made from rules, or found from the sheets, in which case a person has to confirm it. */
  readonly plan: 'given' | 'made' | 'found';
  readonly binding: Binding;
  /** Pages of the file of sheets. */
  readonly filePages: number;
  /** How the places of the pages were found. */
  readonly located: 'plan' | 'boxes' | 'marks' | 'matching';
  readonly sides: readonly ReportSide[];
  /** Where the sheets came as one plate for each ink: every plate. */
  readonly separations?: readonly ReportSeparation[];
}
