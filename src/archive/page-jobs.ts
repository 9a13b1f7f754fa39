import type { PageComparison } from '../comparing/index.ts';
import type {
  Limits,
  PageDescription,
  PageFacts,
  PageRaster,
  PageSignature,
  Tolerances,
  UnreadablePage,
  Word,
} from '../model/index.ts';

/** What drawing a page adds to its description. */
export interface DrawnPart {
  readonly words: readonly Word[];
  readonly signature: PageSignature;
  readonly rasterHash: string;
  readonly blank: boolean;
}

/** A page of a file whose facts are known, and where its raster may lie; a worker draws it again where it does not. */
export interface PageOnDisk {
  readonly path: string;
  readonly facts: PageFacts;
  readonly rasterPath: string;
}

/** Describes pages `first` to `last` of a file from its objects. */
export interface DescribeJob {
  readonly do: 'describe';
  readonly path: string;
  readonly first: number;
  readonly last: number;
  readonly limits: Limits;
}

/** Counts the pages of a file. */
export interface CountJob {
  readonly do: 'count';
  readonly path: string;
  readonly limits: Limits;
}

/** Draws a page at the analysis resolution and leaves its raster on disk. */
export interface DrawJob {
  readonly do: 'draw';
  readonly path: string;
  readonly pageNumber: number;
  readonly ppi: number;
  readonly rasterPath: string;
  readonly limits: Limits;
}

/** Compares two pages, drawing them finer where their type asks for it. */
export interface CompareJob {
  readonly do: 'compare';
  readonly dummy: PageOnDisk;
  readonly revision: PageOnDisk;
  readonly bookConversion: Float64Array;
  readonly tolerances: Tolerances;
  readonly limits: Limits;
}

/** Draws a page for people to look at. */
export interface PictureJob {
  readonly do: 'picture';
  readonly path: string;
  readonly pageNumber: number;
  readonly ppi: number;
  readonly limits: Limits;
}

/** Loads what drawing needs, before there is anything to draw. */
export interface GetReadyJob {
  readonly do: 'get-ready';
}

/** What a worker can be asked for. */
export type PageJob = GetReadyJob | CountJob | DescribeJob | DrawJob | CompareJob | PictureJob;

/** What each job answers with. */
export interface PageJobResult {
  readonly 'get-ready': null;
  readonly count: number;
  readonly describe: readonly (PageDescription | UnreadablePage)[];
  readonly draw: DrawnPart;
  readonly compare: PageComparison;
  readonly picture: PageRaster;
}
