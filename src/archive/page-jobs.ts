import type { PageComparison } from '../comparing/index.ts';
import type {
  Box,
  CoarseScreens,
  Limits,
  PageDescription,
  PageFacts,
  PageRaster,
  PageSignature,
  Tolerances,
  UnreadablePage,
  Word,
} from '../model/index.ts';
import type {
  CellCount,
  CellTurn,
  Grey,
  InkGrid,
  MarkedGrid,
  PlateMarks,
  PlateShift,
  Screen,
} from '../plates/index.ts';
import type {
  CompositeHeader,
  InkPage,
  PictureShelf,
  PlateHeader,
  RasterPart,
  SeparatedPage,
  SheetCut,
  TonesOnDisk,
  ZipMember,
} from '../reading/index.ts';
import type { HashedData } from '../reading/arriving/index.ts';

/** What drawing a page adds to its description. */
export interface DrawnPart {
  readonly words: readonly Word[];
  readonly signature: PageSignature;
  readonly rasterHash: string;
  readonly blank: boolean;
}

/** What a file tells as a whole. */
export interface OpenedFile {
  readonly pages: number;
  /** `surroundingsHash`. */
  readonly surroundings: string;
}

/** A page of a file whose facts are known, and where its raster may lie; a worker draws it again where it does not. */
export interface PageOnDisk {
  readonly path: string;
  readonly facts: PageFacts;
  readonly rasterPath: string;
  /** Its number in that file, where the book is made of several files; else as the facts have it. */
  readonly filePage?: number;
  /** Of a page that was put together from plates. */
  readonly coarse?: CoarseScreens;
}

/** Describes pages `first` to `last` of a file from its objects. */
export interface DescribeJob {
  readonly do: 'describe';
  readonly path: string;
  /** Data in it whose hashes are known. */
  readonly hashed?: readonly HashedData[];
  readonly first: number;
  readonly last: number;
  readonly limits: Limits;
}

/** Opens a file: how many pages it has, and what drawing them leans on beside themselves. */
export interface OpenJob {
  readonly do: 'open';
  readonly path: string;
  /** Data in it whose hashes are known. */
  readonly hashed?: readonly HashedData[];
  readonly limits: Limits;
}

/** Draws a page at the analysis resolution and leaves its raster on disk, where it is wanted there. */
export interface DrawJob {
  readonly do: 'draw';
  readonly path: string;
  readonly pageNumber: number;
  readonly ppi: number;
  readonly rasterPath: string | null;
  readonly limits: Limits;
  /** Where pictures wait that further pages of the same check show too. */
  readonly shelf?: PictureShelf | null;
}

/** Draws a side of a sheet small, as it is taken apart by. */
export interface LookAtSideJob {
  readonly do: 'look-at-side';
  readonly path: string;
  readonly pageNumber: number;
  readonly limits: Limits;
  /** Of its pages, where their marks and boxes are to be read. */
  readonly pageSize: PageDescription['trimmed'] | null;
  readonly shelf: PictureShelf | null;
}

/** A side of a sheet, as pages are looked for on it. */
export interface SeenSideOfSheet {
  readonly words: readonly Word[];
  /** At `PAGE_PPI`. */
  readonly grey: Grey;
  /** By its crop marks, and by the boxes of the pages that its file places on it. */
  readonly marks: MarkedGrid | null;
  readonly boxes: MarkedGrid | null;
}

/** Looks for what may be pages that a side's file places on it, in whatever size. */
export interface BoxScalesJob {
  readonly do: 'box-scales';
  readonly path: string;
  readonly pageNumber: number;
  readonly trimmed: PageDescription['trimmed'];
  readonly side: PageDescription['trimmed'];
  readonly limits: Limits;
}

/** Draws a page of the dummy at `DUMMY_PPI`, to be looked for on sheets; its raster is left on disk where it is wanted there. */
export interface LookAtDummyPageJob {
  readonly do: 'look-at-dummy-page';
  readonly path: string;
  readonly pageNumber: number;
  readonly rasterPath: string | null;
  readonly limits: Limits;
}

/** A page of the dummy as it is looked for on sheets. */
export interface SeenDummyPage {
  readonly drawn: DrawnPart;
  /** At `PAGE_PPI`. */
  readonly grey: Grey;
  /** About a pixel a millimetre: what the plates of its inks are held against. */
  readonly colours: PageRaster;
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

/** A page that is to be drawn, and what is known of it: its description, or all its facts. */
export interface PageToDraw {
  readonly path: string;
  /** Its number in that file. */
  readonly filePage: number;
  readonly page: PageDescription | PageFacts;
  /** Of a page that was put together from plates. */
  readonly coarse?: CoarseScreens;
}

/** Draws two pages and compares them at once, so that neither raster has to lie on disk in between. */
export interface DrawAndCompareJob {
  readonly do: 'draw-and-compare';
  readonly dummy: PageToDraw;
  readonly revision: PageToDraw;
  readonly bookConversion: Float64Array;
  readonly tolerances: Tolerances;
  readonly limits: Limits;
}

/** How two pages differ, and what was seen of each where it was not known. */
export interface DrawnAndCompared {
  readonly dummy: DrawnPart | null;
  readonly revision: DrawnPart | null;
  readonly comparison: PageComparison;
}

/** Draws a page for people to look at, or a part of it. */
export interface PictureJob {
  readonly do: 'picture';
  readonly path: string;
  readonly pageNumber: number;
  readonly ppi: number;
  readonly part?: RasterPart;
  readonly limits: Limits;
}

/** Cuts pages out of sheets and writes them as a book. */
export interface FoldJob {
  readonly do: 'fold';
  readonly path: string;
  readonly cuts: readonly SheetCut[];
  readonly to: string;
  readonly limits: Limits;
}

/** Reads what a plate's file says of it. */
export interface PlateHeaderJob {
  readonly do: 'plate-header';
  readonly path: string;
  /** How refusals call it. */
  readonly name: string;
  readonly limits: Limits;
}

/** Which pages of a PDF are plates of one ink each; null where not all are. */
export interface SeparatedJob {
  readonly do: 'separated';
  readonly path: string;
  readonly limits: Limits;
}

/** Brings a plate down to tones, put aside in two sizes. */
export interface PlateJob {
  readonly do: 'plate';
  readonly path: string;
  /** How refusals call it. */
  readonly name: string;
  /** Of a PDF that has one page for each ink; null for a file of its own. */
  readonly page: number | null;
  readonly limits: Limits;
  readonly header: PlateHeader;
  readonly tones: TonesOnDisk;
  /** As coarse as sheets are looked at. */
  readonly look: TonesOnDisk;
}

/** What is seen of a plate. */
export interface SeenPlate {
  readonly coveragePercent: number;
  /** Null where it has no regular screen, or no even tone to tell it by. */
  readonly screen: Screen | null;
}

/** How the plates of a side lie on each other; for each a shift, in the order given. */
export interface RegisterJob {
  readonly do: 'register';
  readonly looks: readonly TonesOnDisk[];
  readonly pxPerMm: number;
}

/** Looks at the plates of a side: what each has over the side's pages, and beside them. */
export interface PlatesJob {
  readonly do: 'plates';
  readonly looks: readonly TonesOnDisk[];
  readonly pxPerMm: number;
  readonly cells: readonly (CellCount & { readonly box: Box; readonly turnDeg: CellTurn })[];
}

/** For each plate of a side, in the order given. */
export interface SeenTogether {
  /** Of all pages, one after the other. */
  readonly grids: readonly InkGrid[];
  /** Beside the pages. */
  readonly marks: readonly PlateMarks[];
}

/** Writes a part of a side, upright, as a page. */
export interface InkPageJob {
  readonly do: 'ink-page';
  readonly page: InkPage;
  readonly to: string;
}

/** Lists the plates in a ZIP. */
export interface ZipJob {
  readonly do: 'zip';
  readonly path: string;
  /** How refusals call it. */
  readonly name: string;
  readonly limits: Pick<Limits, 'fileBytes' | 'plates' | 'platesBytes'>;
}

/** Takes one file out of a ZIP. */
export interface UnpackJob {
  readonly do: 'unpack';
  readonly path: string;
  readonly member: ZipMember;
  readonly to: string;
}

/** Puts files of one page each together as one. */
export interface JoinJob {
  readonly do: 'join';
  readonly paths: readonly string[];
  readonly to: string;
}

/** Loads what drawing needs, before there is anything to draw. */
export interface GetReadyJob {
  readonly do: 'get-ready';
}

/** What a worker can be asked for. */
export type PageJob =
  | FoldJob
  | PlateHeaderJob
  | SeparatedJob
  | PlateJob
  | RegisterJob
  | PlatesJob
  | InkPageJob
  | ZipJob
  | UnpackJob
  | JoinJob
  | GetReadyJob
  | OpenJob
  | DescribeJob
  | LookAtSideJob
  | LookAtDummyPageJob
  | BoxScalesJob
  | DrawJob
  | DrawAndCompareJob
  | CompareJob
  | PictureJob;

/** What each job answers with. */
export interface PageJobResult {
  readonly 'get-ready': null;
  readonly open: OpenedFile;
  readonly describe: readonly (PageDescription | UnreadablePage)[];
  readonly draw: DrawnPart;
  readonly 'look-at-side': SeenSideOfSheet;
  readonly 'look-at-dummy-page': SeenDummyPage;
  /** How large each was placed. */
  readonly 'box-scales': readonly number[];
  readonly 'draw-and-compare': DrawnAndCompared;
  readonly compare: PageComparison;
  readonly picture: PageRaster;
  readonly fold: null;
  readonly 'plate-header': PlateHeader | CompositeHeader;
  readonly separated: readonly SeparatedPage[] | null;
  readonly plate: SeenPlate;
  readonly register: readonly (PlateShift | null)[];
  readonly plates: SeenTogether;
  readonly 'ink-page': null;
  readonly zip: readonly ZipMember[];
  /** Its SHA-256. */
  readonly unpack: string;
  readonly join: null;
}
