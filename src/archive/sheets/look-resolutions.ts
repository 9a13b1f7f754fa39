import { MM_PER_INCH } from '../../model/index.ts';
import type { Ppi } from '../../model/index.ts';

/** Two pixels a millimetre: what pages are recognised and measured by. */
export const PAGE_PPI: Ppi = 2 * MM_PER_INCH;
/** Hairlines are told at four. */
export const MARKS_PPI: Ppi = 4 * MM_PER_INCH;
/**
 * A page of the dummy is drawn once, for this and for the comparison, as long as that does not ask for another resolution.
 * Not more than twice what pages are recognised by.
 */
export const DUMMY_PPI: Ppi = 100;
