import type { Logger } from 'pino';
import type { Activity, Archive, GrowingUploads } from '../archive/index.ts';
import type { Tolerances } from '../model/index.ts';
import type { CopyMaker, PagePictures, ReportPdfs } from '../reporting/index.ts';
import type { Configuration } from './configuration.ts';
import type { Passwords } from './entrances/passwords.ts';
import type { Metrics } from './metrics.ts';
import type { Scrubs } from './scrubbing.ts';

/** What routes work with. */
export interface ServiceTools {
  readonly archive: Archive;
  readonly uploads: GrowingUploads;
  readonly activity: Activity;
  readonly pictures: PagePictures;
  readonly copies: CopyMaker;
  readonly reportPdfs: ReportPdfs;
  readonly scrubs: Scrubs;
  readonly tolerances: Tolerances;
  /** Certificates in DER of whose time-stamps are believed. */
  readonly authorities: readonly Uint8Array[];
  /** There may be something to do for the workers. */
  readonly nudge: () => void;
  /** Bytes of a file begin to come in: for this part, or, where null, for one that was told before. */
  readonly expectFile: (partId: string | null) => void;
  readonly configuration: Configuration;
  readonly passwords: Passwords;
  readonly journal: Logger;
  readonly metrics: Metrics;
  /** Milliseconds since 1970. */
  readonly now: () => number;
  /** Aborted when the service is to stop: what would last for ever ends. */
  readonly stopping: AbortSignal;
  /** Where the pages for people were built. */
  readonly pagesFolder: string;
}
