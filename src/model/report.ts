import type { Finding } from './finding.ts';
import type { ReportSheets } from './sheet.ts';
import type { Tolerances } from './tolerance.ts';

/** What became of a page: its content is equal byte for byte, it shows the same, or it does not. */
export type PageState = 'same-content' | 'same-picture' | 'differs' | 'missing' | 'added' | 'repeated';

/** One page of either file and what became of it. */
export interface PagePair {
  readonly dummyPage: number | null;
  readonly revisionPage: number | null;
  readonly state: PageState;
  /** How far the colours of the pair lie apart after registration, where it was measured: the size of the conversion. */
  readonly colour?: { readonly meanDeltaE00: number; readonly worstDeltaE00: number };
}

/** A file as a whole: the SHA-256 of its bytes in hexadecimal, and its size. */
export interface FileIdentity {
  readonly sha256: string;
  readonly bytes: number;
  readonly pages: number;
}

/** The published comparison report, `witnessleaf-report/1`. */
export interface Report {
  readonly format: 'witnessleaf-report/1';
  readonly dummy: FileIdentity;
  readonly revision: FileIdentity;
  readonly tolerances: Tolerances;
  readonly pages: readonly PagePair[];
  readonly findings: readonly (Finding & { readonly id: string })[];
  readonly verdict: 'match' | 'differs';
  /** What drew the pages, with versions: rasters are only comparable where it is the same. */
  readonly renderer: string;
  /** Where the report's word ends. */
  readonly cautions: readonly string[];
  /** Of imposed sheets alone: `pages` and `revisionPage` then count the pages of the folded book. */
  readonly sheets?: ReportSheets;
}
