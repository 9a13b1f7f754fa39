import { z } from 'zod';
import type { News } from '../../archive/index.ts';
import { requireStanding } from '../../archive/index.ts';
import { Refusal } from '../../model/index.ts';
import type { Visitor } from '../entrances/visitor.ts';
import { eventStream } from '../table/answer.ts';
import type { ServerEvent } from '../table/answer.ts';
import { route } from '../table/make-route.ts';
import type { ServiceTools } from '../tools.ts';
import * as form from './forms.ts';

/** Whoever is so far behind comes back and goes on. */
const MOST_WAITING = 2000;

/** What happens to a title, as it happens. */
export const eventRoutes = [
  route({
    method: 'get',
    path: '/api/titles/{titleId}/events',
    name: 'followTitle',
    says: 'What happens to a title, as it happens: `received`, `progress`, `read`, `findings`, `compared`, `pictures`, `stumbled`, `stated`, `remarked`. `anew` says that nothing is known of what was missed: look at everything anew; after it come the `findings` of comparisons that go on.',
    who: { may: 'standing', on: 'title', right: 'look' },
    params: z.strictObject({ titleId: form.id }),
    headers: { 'Last-Event-ID': 'the last event that was heard; what came after it is told first' },
    answers: { 200: { says: 'server-sent events', bytes: ['text/event-stream'] } },
    answer: async ({ titleId, visitor, tools, request, gone }) => {
      const told = request.headers['last-event-id'];
      const last = typeof told === 'string' && /^\d{1,15}$/.test(told) ? Number(told) : null;
      return eventStream(eventsOf({ titleId, last, visitor, gone }, tools));
    },
  }),
];

interface Following {
  readonly titleId: string;
  readonly last: number | null;
  readonly visitor: Visitor;
  readonly gone: AbortSignal;
}

async function* eventsOf(
  { titleId, last, visitor, gone }: Following,
  tools: ServiceTools,
): AsyncGenerator<ServerEvent> {
  const { activity } = tools;
  const waiting: News[] = [];
  let wake: () => void = () => undefined;
  // Before the look back, so that nothing falls between the two.
  const end = activity.listen((news) => {
    if (news.titleId === titleId) waiting.push(news);
    wake();
  });
  gone.addEventListener('abort', () => wake());
  try {
    const missed = last === null ? [] : activity.since(last);
    let told = missed === null || last === null ? activity.latest() : last;
    if (missed === null || last === null) {
      yield { id: String(told), event: 'anew', data: {} };
      // Nothing else keeps what was found in a comparison that still goes on.
      for (const news of activity.foundSoFar(titleId)) if (news.number <= told) yield { ...shownNews(news), id: null };
    }
    for (const news of missed ?? []) if (news.titleId === titleId) waiting.unshift(news);
    waiting.sort((one, other) => one.number - other.number);
    while (!gone.aborted && waiting.length < MOST_WAITING) {
      const news = waiting.shift();
      if (news === undefined) {
        await new Promise<void>((go) => (wake = go));
      } else if (news.number > told) {
        if (!(await maySee(titleId, visitor, tools))) return;
        told = news.number;
        yield shownNews(news);
      }
    }
  } finally {
    end();
  }
}

/** Sight that was taken, and a session that was ended, end the stream too. */
async function maySee(titleId: string, { actor, entrance }: Visitor, { archive, now }: ServiceTools): Promise<boolean> {
  if ((await archive.catalogue.entrances.open(entrance.tokenHash, now())) === null) return false;
  try {
    await requireStanding(archive.catalogue, actor, titleId);
    return true;
  } catch (error) {
    if (error instanceof Refusal) return false;
    throw error;
  }
}

function shownNews({ number, atMs, partId, fileId, what, data }: News): ServerEvent {
  const shown = { at: form.formatInstant(atMs), part: partId, file: fileId, ...data };
  return { id: String(number), event: what, data: shown };
}
