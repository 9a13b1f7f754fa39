import { Refusal } from '../../model/index.ts';
import type { Standing } from '../catalogue/index.ts';

/**
 * How sheets fold is the printer’s word.
 *
 * @throws {Refusal} not-allowed: another side
 */
export function requirePrinter(standing: Standing, what: string): void {
  if (standing !== 'printer') throw new Refusal('not-allowed', { what, missing: 'the role of printer' });
}
