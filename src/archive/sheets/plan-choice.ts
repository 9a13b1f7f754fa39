import { readFile } from 'node:fs/promises';
import { parsePlan, parseRule } from '../../plates/index.ts';
import type { SentFile } from '../catalogue/index.ts';
import type { Archive } from '../open-archive.ts';
import type { PlanChoice } from './sheets-request.ts';

/**
 * Where the plan of a file of sheets comes from: what its sender said of it, else the sheets themselves.
 *
 * @throws {Refusal} not-found, unreadable: the plan that was given is no longer among the blobs, or is damaged
 */
export async function planChoiceOf(
  { blobs }: Pick<Archive, 'blobs'>,
  { folding }: Pick<SentFile, 'folding'>,
): Promise<PlanChoice> {
  if (folding === null) return { from: 'found' };
  if ('plan' in folding) {
    const text = await blobs.lend(folding.plan, (path) => readFile(path, 'utf8'));
    return { from: 'given', plan: parsePlan(text) };
  }
  return { from: 'made', ...parseRule(folding) };
}
