import { createHash } from 'node:crypto';
import type { Tolerances } from '../../model/index.ts';
import { formatCanonicalJson } from '../../model/index.ts';
import { RASTER_RENDERER } from '../../reading/pool/index.ts';
import type { SentFile } from '../catalogue/index.ts';

/** Under which terms a file is compared. */
export interface CheckTerms {
  readonly tolerances: Tolerances;
  readonly purpose: 'compare' | 'plates';
  /** Of sheets of which it was said again how they fold: how often. */
  readonly saidAgain?: number;
}

/** A plates input is looked at as what plates are made of. */
export function termsFor(
  { kind, foldingNumber }: Pick<SentFile, 'kind' | 'foldingNumber'>,
  tolerances: Tolerances,
): CheckTerms {
  const saidAgain = foldingNumber === 0 ? {} : { saidAgain: foldingNumber };
  return { tolerances, purpose: kind === 'plates-input' ? 'plates' : 'compare', ...saidAgain };
}

/** SHA-256 of all that a report depends on beside the two files. */
export function termsHash(terms: CheckTerms): string {
  return hashOf({ ...terms, renderer: RASTER_RENDERER });
}

/**
 * The key of the job that compares a file: another dummy or other tolerances make another job. The renderer is left out,
 * so that a new edition of it does not compare again what was decided long ago.
 */
export function compareKey(dummyId: string, fileId: string, terms: CheckTerms): string {
  return `compare/${dummyId}/${fileId}/${hashOf(terms).slice(0, 16)}`;
}

function hashOf(value: object): string {
  return createHash('sha256').update(formatCanonicalJson(value)).digest('hex');
}
