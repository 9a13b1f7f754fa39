import { Refusal } from '../../model/index.ts';
import { parseRule, planByRule, requirePlanFor } from '../../plates/index.ts';
import type { SentFile, Tables } from '../catalogue/index.ts';
import { dummyToCompareWith } from '../checking/dummy-to-compare-with.ts';
import { bookPages } from '../files/book-pages.ts';

/** Of a book that is still to be sent: only whether the folds make anything is seen. */
const ANY_PAGE = { width: 210, height: 280 };

/**
 * Refuses what is said of how sheets fold where it cannot be, as far as the part's dummy is known: before a byte is sent,
 * and again when they have arrived.
 *
 * @param isWhole  whether it is no part of a book that is laid over another
 * @throws {Refusal} not-found: no such plan was given to the part
 * @throws {Refusal} malformed: something else than whole sheets, folds that make no book, or a plan of another book
 */
export async function requireFolding(
  tables: Tables,
  { partId, kind, folding }: Pick<SentFile, 'partId' | 'kind' | 'folding'>,
  isWhole: boolean,
): Promise<void> {
  if (folding === null) return;
  if (kind !== 'plates-input' || !isWhole) {
    const found = isWhole ? `a ${kind}` : 'some pages of one';
    throw new Refusal('malformed', { pointer: '/folding', expected: 'a whole plates input', found });
  }
  const dummy = await dummyToCompareWith(tables, partId);
  const pages = (dummy && (await bookPages(tables, dummy))) ?? null;
  if ('plan' in folding) {
    const given = await tables.givenPlans.get(partId, folding.plan);
    if (given === null) throw new Refusal('not-found', { what: 'plan' });
    if (pages !== null) requirePlanFor(given, pages.length);
    return;
  }
  const rule = parseRule(folding);
  const trimmed = pages?.find((page) => page.trimmed !== null)?.trimmed ?? ANY_PAGE;
  planByRule(rule, { pages: pages?.length ?? rule.sectionPages, trimmed });
}
