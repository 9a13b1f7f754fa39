import type {
  CoarseScreens,
  FileIdentity,
  Finding,
  Limits,
  PageDescription,
  PageFacts,
  PageRaster,
  Report,
  Tolerances,
  UnreadablePage,
} from '../model/index.ts';
import type { PictureShelf } from '../reading/index.ts';
import type { HashedData } from '../reading/arriving/index.ts';
import type { Pool } from '../reading/pool/index.ts';
import type { RecentFacts } from './recent-facts.ts';

/** How far a check has come, in pages of both files together. */
export interface Progress {
  readonly stage: 'reading' | 'drawing' | 'comparing';
  readonly done: number;
  readonly total: number;
}

/** A page of a file on disk; the file's identity is known to whoever names it. */
export interface PageSource {
  readonly path: string;
  readonly sha256: string;
  readonly bytes: number;
  /** In that file, from 1. */
  readonly pageNumber: number;
  /** Of a page that was put together from plates. */
  readonly coarse?: CoarseScreens;
}

/** A whole file on disk whose identity is known, so that it is not hashed once more. */
export interface KnownFile {
  readonly path: string;
  readonly sha256: string;
  readonly bytes: number;
  /** Data in it that were hashed while it arrived. */
  readonly hashed?: readonly HashedData[];
}

/** A file or a book as its objects describe it; pages that could not be read carry the cause. */
export interface DescribedFile {
  readonly identity: FileIdentity;
  /** Where a page of it lies. */
  readonly sourceOf: (pageNumber: number) => PageSource;
  readonly pages: readonly (PageDescription | UnreadablePage)[];
  /** Of the file a page lies in, what drawing it leans on beside the page itself. */
  readonly surroundingsOf: (pageNumber: number) => string;
}

/** A file or a book as a check takes it; of a path alone the hash is made first, and what is not described yet is described. */
export type BookToCheck = string | KnownFile | AssembledBook | DescribedFile;

/** A book whose pages lie in several files, in the book's order. */
export interface AssembledBook {
  readonly identity: FileIdentity;
  readonly pages: readonly PageSource[];
}

/** Pages of a dummy that were drawn while what they are compared with was still being made. */
export interface DrawnAhead {
  /** Where a page's raster is left. */
  rasterPathOf(this: void, pageNumber: number): string;
  /** A page that was drawn; undefined for the others. */
  pageOf(this: void, pageNumber: number): PageFacts | undefined;
}

/** What a check is made of: two files and under which terms they are compared. */
export interface CheckRequest {
  readonly dummyPath: BookToCheck;
  readonly revisionPath: BookToCheck;
  readonly tolerances: Tolerances;
  readonly limits: Limits;
  /** `plates`: the revision is about to be made into plates, so a coarse picture stops it. */
  readonly purpose: 'compare' | 'plates';
  /** Pages of both files, from 1, both ends included; all where absent. */
  readonly pages?: { readonly first: number; readonly last: number };
  /** Folder where facts of pages are kept for the next check; null keeps nothing. */
  readonly keptFolder: string | null;
  /** Facts that were read from it for other checks. */
  readonly recentFacts?: RecentFacts | undefined;
  /** So many workers for this check alone, or workers that are already running and go on afterwards. */
  readonly workers: number | Pool;
  /** Where pictures of the revision may wait already. */
  readonly shelf?: PictureShelf;
  /** Pages of the dummy that are drawn already. */
  readonly dummyAhead?: DrawnAhead;
  readonly onProgress?: (progress: Progress) => void;
  /** Told of what was found as soon as it is: of the order first, then of each page. */
  readonly onFindings?: (findings: readonly Finding[]) => void;
}

/** A finished check: its report, and the pages to draw pictures of it until it is closed. */
export interface CheckedRevision {
  readonly report: Report;
  drawPage(side: 'dummy' | 'revision', pageNumber: number, ppi: number): Promise<PageRaster>;
  /** Of imposed sheets: a side as a picture, by its page of the file. */
  readonly drawSide?: (this: void, filePage: number, ppi: number) => Promise<PageRaster>;
  close(): Promise<void>;
}
