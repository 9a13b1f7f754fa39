import type { Deg, Mm, Ppi } from './measure.ts';

/** The inks that pictures are printed with. */
export const PROCESS_INKS = ['cyan', 'magenta', 'yellow', 'black'] as const;

/** One of the four inks that pictures are printed with. */
export type ProcessInk = (typeof PROCESS_INKS)[number];

/** Whether a plate's ink is one of the four; any other is a spot colour, by its name. */
export function isProcessInk(ink: string): ink is ProcessInk {
  return (PROCESS_INKS as readonly string[]).includes(ink);
}

/** Of what was printed from plates, rows of dots an inch of the inks whose screens are coarse; the others are not named. */
export type CoarseScreens = Readonly<Partial<Record<ProcessInk, number>>>;

/** A plate of a side in the report: which file it is, for which ink, and how it is screened. */
export interface ReportSeparation {
  readonly file: string;
  readonly sha256: string;
  readonly bytes: number;
  /** Which side it was taken for. */
  readonly sheet: number;
  readonly side: 'front' | 'back' | 'both';
  /** A process ink, or the name of a spot colour. */
  readonly ink: string;
  readonly width: Mm;
  readonly height: Mm;
  readonly ppi: Ppi;
  readonly bits: 1 | 8;
  /** Paper that the ink covers, of the whole plate. */
  readonly coveragePercent: number;
  /** Rows of dots an inch, estimated; null where there is no regular screen, or no tone to tell it by. */
  readonly rulingLpi: number | null;
  /** Direction of the rows, 0 to 90. */
  readonly screenDeg: Deg | null;
}
