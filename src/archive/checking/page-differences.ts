import type { Finding } from '../../model/index.ts';
import type { Blobs } from '../blobs/index.ts';
import { checkRevision } from '../check-revision.ts';
import { assembleBook, lendAll } from '../files/lend-book.ts';
import type { CheckingOrder } from './checking-order.ts';
import { meet, placeOn } from './places.ts';
import { questionKey } from './same-findings.ts';
import type { PageQuestion, ShowsTheSame } from './same-findings.ts';

/** What the comparison of two pages came to: what differs, or null where they are no pair. */
type Differences = readonly Finding[] | null;

/**
 * Compares pages of later files with each other, each once, to tell whether a place of them still shows the same. What is
 * told of a page alone (how coarse a picture is) is no difference.
 *
 * @throws {Refusal} as `checkRevision`
 */
export async function comparePlaces(
  blobs: Blobs,
  order: CheckingOrder,
  questions: readonly PageQuestion[],
): Promise<ShowsTheSame> {
  const differences = new Map<string, Differences>();
  for (const round of inRounds(questions)) {
    const found = await compareRound(blobs, order, round);
    round.forEach((question, index) => differences.set(questionKey(question), found[index] ?? null));
  }
  return (question, before, now) => {
    const between = differences.get(questionKey(question)) ?? null;
    if (between === null) return false;
    return !between.some(
      ({ box, revisionBox }) => meet(box, placeOn(before)) || meet(revisionBox ?? box, placeOn(now)),
    );
  };
}

/** In one round no page stands twice on a side, so that the pages of a pair are never taken for a repetition. */
function inRounds(questions: readonly PageQuestion[]): readonly (readonly PageQuestion[])[] {
  const rounds: { readonly keys: Set<string>; readonly asked: PageQuestion[] }[] = [];
  for (const question of questions) {
    const keys = [`before ${question.before.key}`, `now ${question.now.key}`];
    const free = rounds.find((round) => !keys.some((key) => round.keys.has(key)));
    const round = free ?? { keys: new Set<string>(), asked: [] };
    if (free === undefined) rounds.push(round);
    keys.forEach((key) => round.keys.add(key));
    round.asked.push(question);
  }
  return rounds.map(({ asked }) => asked);
}

async function compareRound(
  blobs: Blobs,
  { limits, tolerances, factsFolder, recentFacts, pool }: CheckingOrder,
  questions: readonly PageQuestion[],
): Promise<readonly Differences[]> {
  const [before, now] = [questions.map((question) => question.before), questions.map((question) => question.now)];
  return lendAll(
    blobs,
    [...before, ...now].map(({ sha256 }) => sha256),
    async (paths) => {
      const checked = await checkRevision({
        dummyPath: await assembleBook(blobs, before, paths),
        revisionPath: await assembleBook(blobs, now, paths),
        purpose: 'compare',
        keptFolder: factsFolder,
        recentFacts,
        workers: pool,
        tolerances,
        limits,
      });
      await checked.close();
      const { pages, findings } = checked.report;
      return questions.map((_question, index) => {
        const number = index + 1;
        const isPair = pages.some(({ dummyPage, revisionPage }) => dummyPage === number && revisionPage === number);
        const own = findings.filter(({ dummyPage, revisionPage }) => dummyPage === number || revisionPage === number);
        return isPair ? own.filter(({ kind, weight }) => weight !== 'note' && kind !== 'picture-coarse') : null;
      });
    },
  );
}
