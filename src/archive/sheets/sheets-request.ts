import type { FoldingRule, Plan } from '../../plates/index.ts';
import type { CheckedRevision, CheckRequest } from '../check-request.ts';

/** Where the plan of the sheets comes from. */
export type PlanChoice =
  | { readonly from: 'given'; readonly plan: Plan }
  /** From rules; where the pages lie is then found on the sheets. */
  | ({ readonly from: 'made' } & FoldingRule)
  /** From the sheets themselves, by the pages that are recognised on them. */
  | { readonly from: 'found' };

/** A check of imposed sheets: what is sent to the platesetter against the signed dummy. */
export interface SheetsRequest extends Omit<CheckRequest, 'dummyPath' | 'revisionPath'> {
  readonly dummyPath: string;
  /**
   * A PDF with one page a side, in the order of the plan; or plates, one for each ink of a side: a PDF of them, a folder, a
   * ZIP, or a plate.
   */
  readonly sheetsPath: string;
  /** How people know it, where its path does not say. */
  readonly sheetsName?: string;
  /** Further plates, or folders of them. */
  readonly furtherPaths?: readonly string[];
  readonly planChoice: PlanChoice;
}

/** A finished check of sheets. The report is about the folded book, and so are the pages drawn for `revision`. */
export interface CheckedSheets extends CheckedRevision {
  /** The plan with the places that the pages were looked for at. */
  readonly plan: Plan;
  /** Of a plan that was found: how many of the recognised pages agree with it. */
  readonly agreement: { readonly agreeing: number; readonly recognised: number } | null;
  /** The book that the sheets fold to as one PDF, which is there until the check is closed. */
  foldedBook(this: void): Promise<string>;
  /** Where sides came as plates: the sides with all their inks, as pages of one PDF; else null, for the file has them. */
  sidesBook(this: void): Promise<string | null>;
  /** A side of a sheet as a picture. */
  readonly drawSide: NonNullable<CheckedRevision['drawSide']>;
}
