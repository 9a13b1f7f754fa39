import type { Ppi } from '../../src/model/index.ts';

/** How a file is prepared from the book: what the exporter of a dummy, a final or a proof is told. */
export interface Preparation {
  readonly colour: 'rgb' | 'cmyk';
  readonly ppi: Ppi;
  /** A JPEG quality, or lossless. */
  readonly coding: number | 'flate';
  /** Picture data cut to the window, or with more around it and a clipping path. */
  readonly data: 'precropped' | 'clipped';
  /** Into how many strips each picture is cut. */
  readonly strips: number;
  readonly kernel: 'lanczos3' | 'cubic' | 'mitchell';
  /** `uncoated`: lightness drawn together and colours paler, as for a stock that swallows ink. */
  readonly tone: 'coated' | 'uncoated';
  /** An ICC profile's file for the inks; without one, the one that comes with the image library. */
  readonly inkProfile?: string;
  readonly bleed: boolean;
  /** Whether the file says for which inks and paper it was made, with the profile of the conversion. */
  readonly outputIntent: boolean;
}

/** The cheap print that is signed. */
export const DUMMY: Preparation = {
  colour: 'rgb',
  ppi: 100,
  coding: 75,
  data: 'precropped',
  strips: 1,
  kernel: 'cubic',
  tone: 'coated',
  bleed: true,
  outputIntent: false,
};

/** The file for plates. */
export const FINAL: Preparation = {
  ...DUMMY,
  colour: 'cmyk',
  ppi: 300,
  coding: 92,
  data: 'clipped',
  kernel: 'lanczos3',
  outputIntent: true,
};
