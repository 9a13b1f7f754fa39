import type { Ppi } from '../../model/index.ts';

/** About two pixels a millimetre: what pages are recognised and measured by. */
export const PAGE_PPI: Ppi = 50;
/**
 * Twice that: hairlines are told, and a page of the dummy drawn once serves the comparison too, as long as that does not ask
 * for another resolution.
 */
export const FINE_PPI: Ppi = 2 * PAGE_PPI;
