import { resolve } from 'node:path';
import { z } from 'zod';
import type { Actor, Part, PartStage, Right, TimeStamp, Title, Wait } from '../../archive/index.ts';
import { diskRoom, partStage } from '../../archive/index.ts';
import { STAGES } from '../../model/index.ts';
import { PROJECT_FOLDER } from '../configuration.ts';
import { json, nothing } from '../table/answer.ts';
import { route } from '../table/make-route.ts';
import type { ServiceTools } from '../tools.ts';
import * as form from './forms.ts';
import { seenTitles, shownPart, shownTitle, part, title } from './title-routes.ts';

const wait = z
  .object({
    what: z.enum(['failed-file', 'dummy-to-sign', 'findings-to-rule-on', 'release-to-sign']),
    file: form.id,
    findings: z.int().meta({ description: 'that wait for one’s own side; 0 for anything else' }),
  })
  .meta({ id: 'Wait' });

const partOnDesk = part
  .extend({
    stage: z.enum(STAGES),
    file: form.id.nullable().meta({ description: 'that the stage is about' }),
    open: z.int().meta({ description: 'findings that are not agreed by both' }),
    waits: z.array(wait).meta({ description: 'what whoever asks may do next' }),
  })
  .meta({ id: 'PartOnDesk' });

const titleOnDesk = title.extend({ parts: z.array(partOnDesk) }).meta({ id: 'TitleOnDesk' });

const bytes = z.int().min(0);

const pendingStamps = z
  .object({
    heads: z.int().meta({ description: 'of the log, that wait' }),
    since: form.instant.meta({ description: 'when the oldest of them was asked for' }),
    cause: z.string().nullable().meta({ description: 'what the latest of their tries came to' }),
  })
  .meta({ id: 'PendingTimeStamps' });
const scrub = z
  .object({
    isRunning: z.boolean(),
    begun: form.instant.nullable(),
    ended: form.instant.nullable(),
    found: z
      .object({
        isSound: z.boolean(),
        blobs: z.int(),
        bytes: z.int(),
        entries: z.int().meta({ description: 'of the log' }),
        faults: z.int().meta({ description: 'the command `scrub` names them' }),
      })
      .nullable(),
    cause: z.string().nullable().meta({ description: 'why it did not come to an end' }),
  })
  .meta({ id: 'Scrub' });

const archiveState = z
  .object({
    at: form.instant,
    disk: z.object({ freeBytes: bytes, totalBytes: bytes }),
    jobs: z.object({ waiting: z.int(), running: z.int() }),
    timeStamps: z.boolean().meta({ description: 'an authority for time-stamps is configured' }),
    pendingTimeStamps: pendingStamps.nullable().meta({ description: 'null: every head that was asked for is stamped' }),
    uploadBytes: bytes.meta({ description: 'the largest file that is taken' }),
  })
  .meta({ id: 'ArchiveState' });

/** What lies on one's desk, and how the archive itself is. */
export const deskRoutes = [
  route({
    method: 'get',
    path: '/api/desk',
    name: 'readDesk',
    says: 'The titles that one sees, the newest first, with where each part stands and what waits for whoever asks.',
    who: { may: 'signed-in' },
    query: form.page,
    answers: { 200: { says: 'them', json: form.listOf(titleOnDesk) } },
    answer: async ({ query, actor, tools }) => {
      const { items, next } = await seenTitles(query, actor, tools);
      const rights = (await tools.archive.catalogue.people.get(actor.personId))?.rights ?? [];
      return json({ items: await Promise.all(items.map((one) => shownDesk(one, rights, actor, tools))), next });
    },
  }),
  route({
    method: 'get',
    path: '/api/archive',
    name: 'readArchiveState',
    says: 'How the archive is: room on its disk, work that waits, whether its log is time-stamped.',
    who: { may: 'signed-in' },
    answers: { 200: { says: 'so it is now', json: archiveState } },
    answer: async ({ at, tools }) => {
      const { configuration, archive } = tools;
      const open = await archive.catalogue.jobs.open();
      const jobs = { waiting: 0, running: 0 };
      for (const { state } of open) if (state === 'waiting' || state === 'running') jobs[state] += 1;
      return json(
        {
          at: form.formatInstant(at),
          disk: await diskRoom(resolve(PROJECT_FOLDER, configuration.folder)),
          jobs,
          timeStamps: configuration.timeStampUrl !== '',
          pendingTimeStamps: shownPending(await archive.catalogue.timeStamps.pending(), configuration.timeStampUrl),
          uploadBytes: configuration.uploadBytes,
        },
        200,
        { 'Cache-Control': 'no-store' },
      );
    },
  }),
  route({
    method: 'get',
    path: '/api/archive/scrub',
    name: 'readScrub',
    says: 'What the latest reading of the whole archive found; it is kept when the service is started again.',
    who: { may: 'signed-in' },
    answers: { 200: { says: 'it', json: scrub } },
    answer: async ({ tools }) => json(shownScrub(tools), 200, { 'Cache-Control': 'no-store' }),
  }),
  route({
    method: 'post',
    path: '/api/archive/scrub',
    name: 'beginScrub',
    says: 'Has everything in the archive read again and held against its hashes; one reading at a time.',
    who: { may: 'signed-in' },
    answers: { 204: { says: 'it goes on' } },
    answer: async ({ tools }) => {
      tools.scrubs.begin();
      return nothing();
    },
  }),
];

/** An authority that is not configured any more is not asked again, so nothing of it is waited for. */
function shownPending(all: readonly TimeStamp[], url: string): unknown {
  const pending = all.filter(({ authority }) => authority === url);
  const [oldest] = pending;
  if (oldest === undefined) return null;
  const cause = pending.findLast(({ tries }) => tries > 0)?.lastCause ?? null;
  return { heads: pending.length, since: form.formatInstant(oldest.askedMs), cause };
}

function shownScrub({ scrubs }: ServiceTools): unknown {
  const { isRunning, begunAtMs, endedAtMs, found, cause } = scrubs.latest();
  const shown = (ms: number | null): string | null => (ms === null ? null : form.formatInstant(ms));
  return { isRunning, begun: shown(begunAtMs), ended: shown(endedAtMs), found, cause };
}

async function shownDesk(one: Title, rights: readonly Right[], actor: Actor, tools: ServiceTools): Promise<unknown> {
  const parts = await tools.archive.catalogue.titles.parts(one.id);
  const staged = parts.map((given) => shownStage(given, one, rights, actor, tools));
  return { ...(await shownTitle(one, actor, tools)), parts: await Promise.all(staged) };
}

async function shownStage(
  given: Part,
  of: Title,
  rights: readonly Right[],
  { partyId }: Actor,
  { archive, tolerances }: ServiceTools,
): Promise<unknown> {
  const party = partyId === of.publisherId ? 'publisher' : partyId === of.printerId ? 'printer' : null;
  const stage: PartStage = await partStage(archive.catalogue, { partId: given.id, party, tolerances });
  const mine = stage.waits.filter(({ what }) => rights.includes(NEEDED[what]));
  const waits = mine.map(({ what, fileId, findings }) => ({ what, file: fileId, findings }));
  return { ...shownPart(given), stage: stage.stage, file: stage.fileId, open: stage.open, waits };
}

/** The right to do what waits. */
const NEEDED: Readonly<Record<Wait['what'], Right>> = {
  'failed-file': 'send-files',
  'dummy-to-sign': 'sign',
  'findings-to-rule-on': 'sign',
  'release-to-sign': 'sign',
};
