import type { PageRaster, Report } from '../model/index.ts';

/** Draws the trimmed page of one side. Refuses where the page cannot be drawn. */
export type PageDrawer = (side: 'dummy' | 'revision', pageNumber: number, ppi: number) => Promise<PageRaster>;

/** What a report with pictures is made of. */
export interface ReportSubject {
  readonly report: Report;
  /** The files as the person named them; they are shown, never opened. */
  readonly names: { readonly dummy: string; readonly revision: string };
  readonly drawPage: PageDrawer;
  /** Draws a side of imposed sheets, by its page of the file; where it is absent, sides are told without pictures. */
  readonly drawSide?: (filePage: number, ppi: number) => Promise<PageRaster>;
  /** Printed on the report where given; without it the same files give the same bytes on any day. */
  readonly madeAt?: Date;
}
