import { PDFName, PDFRawStream } from '@cantoo/pdf-lib';
import type { PDFDict } from '@cantoo/pdf-lib';
import type { Matrix } from '../../model/index.ts';
import { isName } from './content/operand.ts';
import type { Operand } from './content/operand.ts';
import type { Clip } from './geometry/clip.ts';
import { dictEntry, entryOf, numberEntry } from './objects.ts';

/** What of the graphics state matters to where a picture lands and what shows of it. */
export interface GraphicsState {
  /** From the content's space to page mm. */
  readonly ctm: Matrix;
  readonly clip: Clip;
  /** A soft mask of an ExtGState is on. */
  readonly isSoftMasked: boolean;
  /** The tiling pattern that fills are painted with, or null. */
  readonly fillPattern: PDFRawStream | null;
}

/** A content stream's surroundings. */
export interface Surroundings {
  readonly resources: PDFDict | undefined;
  /** The ctm at the start of the content: the space that patterns are placed in. */
  readonly base: Matrix;
  /** How many forms, cells and groups it lies within. */
  readonly depth: number;
  readonly isInPatternOrMask: boolean;
  /** Within a cell that repeats over the area it fills: that area. */
  readonly repeatsOver: Clip | null;
}

/** What a resource's name stands for, a reference not yet followed. */
export function namedResource(resources: PDFDict | undefined, category: string, name: Operand | undefined) {
  return isName(name) ? dictEntry(resources, category)?.get(PDFName.of(name.name)) : undefined;
}

/** The tiling pattern that the operands of scn choose, or null for a plain colour or a shading. */
export function chosenPattern(resources: PDFDict | undefined, operands: readonly Operand[]): PDFRawStream | null {
  const name = operands.at(-1);
  const pattern = isName(name) ? entryOf(dictEntry(resources, 'Pattern'), name.name) : undefined;
  return pattern instanceof PDFRawStream && numberEntry(pattern.dict, 'PatternType') === 1 ? pattern : null;
}
