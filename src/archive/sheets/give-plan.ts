import { formatPlan, parsePlan, requirePlanFor } from '../../plates/index.ts';
import type { Plan } from '../../plates/index.ts';
import type { Actor } from '../actor.ts';
import { keepBytes } from '../blobs/index.ts';
import { dummyToCompareWith } from '../checking/dummy-to-compare-with.ts';
import { bookPages } from '../files/book-pages.ts';
import type { Archive } from '../open-archive.ts';
import { requirePart } from '../standing.ts';

/**
 * Keeps a folding plan for a part, so that sheets that are sent into it can name it. The same plan has the same hash
 * however it is laid out.
 *
 * @param text  `witnessleaf-plan/1`
 * @throws {Refusal} not-found, not-allowed: as `requirePart` for sending files
 * @throws {Refusal} malformed: as `parsePlan`; or the part's dummy has another number of pages
 * @throws {Refusal} unavailable: the disk is full or fails
 */
export async function givePlan(
  { blobs, catalogue }: Pick<Archive, 'blobs' | 'catalogue'>,
  actor: Actor,
  { partId, text }: { readonly partId: string; readonly text: string },
  at: number,
): Promise<{ readonly sha256: string; readonly plan: Plan }> {
  await requirePart(catalogue, actor, partId, 'send-files');
  const plan = parsePlan(text);
  const dummy = await dummyToCompareWith(catalogue, partId);
  const pages = dummy && (await bookPages(catalogue, dummy));
  if (pages !== null) requirePlanFor(plan, pages.length);
  const put = await keepBytes(blobs, Buffer.from(formatPlan(plan)));
  await catalogue.together(async (tables) => {
    await requirePart(tables, actor, partId, 'send-files');
    await tables.blobs.add({ ...put, at });
    const given = { partId, sha256: put.sha256, pages: plan.pages };
    await tables.givenPlans.add({ ...given, personId: actor.personId, at });
  });
  return { sha256: put.sha256, plan };
}
