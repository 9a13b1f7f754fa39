import type { Workshop } from '../../../demo/book/library.ts';
import type { Preparation } from '../../../demo/book/preparation.ts';
import type { BookSpec } from '../../../demo/book/spec.ts';

/** Writes a book as a PDF file; what makers share is only the book and the picture data. */
export type Maker = (book: BookSpec, how: Preparation, workshop: Workshop, path: string) => Promise<void>;
