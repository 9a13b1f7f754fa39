import { timingSafeEqual } from 'node:crypto';
import type { Request } from 'express';
import { z } from 'zod';
import { Refusal } from '../../model/index.ts';
import { hashOfSecret } from '../entrances/secret.ts';
import type { Gauge } from '../metrics.ts';
import { PROBLEMS, problemType } from '../problems.ts';
import type { ProblemKind } from '../problems.ts';
import { json, text } from '../table/answer.ts';
import { route } from '../table/make-route.ts';
import type { ServiceTools } from '../tools.ts';

const kindOfProblem = z.enum(Object.keys(PROBLEMS) as [ProblemKind, ...ProblemKind[]]);

/**
 * The service about itself: whether it is well, what it counts, what its problems mean.
 *
 * @throws {Refusal} unavailable, not-found: while it stops; figures for whoever may not have them
 */
export const houseRoutes = [
  route({
    method: 'get',
    path: '/health/alive',
    name: 'isAlive',
    says: 'The process answers.',
    who: { may: 'anybody' },
    answers: { 200: { says: 'it does', json: z.object({ alive: z.literal(true) }) } },
    answer: async () => json({ alive: true }, 200, { 'Cache-Control': 'no-store' }),
  }),
  route({
    method: 'get',
    path: '/health/ready',
    name: 'isReady',
    says: 'The catalogue answers and the service is not about to stop.',
    who: { may: 'anybody' },
    answers: { 200: { says: 'ready for work', json: z.object({ ready: z.literal(true) }) } },
    answer: async ({ tools }) => {
      if (tools.stopping.aborted) throw new Refusal('unavailable', { what: 'the service', reason: 'it is stopping' });
      await tools.archive.catalogue.log.size();
      return json({ ready: true }, 200, { 'Cache-Control': 'no-store' });
    },
  }),
  route({
    method: 'get',
    path: '/metrics',
    name: 'readMetrics',
    says: 'Figures for Prometheus: with the bearer token of the configuration, or, where there is none, from this machine only.',
    who: { may: 'anybody' },
    answers: { 200: { says: 'figures', bytes: ['text/plain'] } },
    answer: async ({ tools, request }) => {
      requireWatcher(request, tools.configuration.metricsToken);
      return text(tools.metrics.text(await gaugesOf(tools)), 'text/plain; version=0.0.4', {
        'Cache-Control': 'no-store',
      });
    },
  }),
  route({
    method: 'get',
    path: '/api/problems/{kind}',
    name: 'explainProblem',
    says: 'What a type of problem means.',
    who: { may: 'anybody' },
    params: z.strictObject({ kind: kindOfProblem }),
    answers: {
      200: { says: 'it', json: z.object({ type: z.string(), title: z.string(), status: z.int() }) },
    },
    answer: async ({ params }) => json({ type: problemType(params.kind), ...PROBLEMS[params.kind] }),
  }),
];

function requireWatcher(request: Request, token: string): void {
  const isHere = /^(::1|(::ffff:)?127\.\d+\.\d+\.\d+)$/.test(request.ip ?? '');
  const told = request.headers.authorization?.replace(/^Bearer /i, '') ?? '';
  const mayWatch = token === '' ? isHere : isEqual(told, token);
  if (!mayWatch) throw new Refusal('not-found', { what: 'what this address names' });
}

function isEqual(left: string, right: string): boolean {
  return timingSafeEqual(Buffer.from(hashOfSecret(left)), Buffer.from(hashOfSecret(right)));
}

async function gaugesOf({ archive }: ServiceTools): Promise<readonly Gauge[]> {
  const jobs = await archive.catalogue.jobs.open();
  const states = ['waiting', 'running'] as const;
  return [
    {
      name: 'witnessleaf_jobs',
      says: 'Jobs that are not done.',
      values: states.map((state) => ({ labels: { state }, value: jobs.filter((job) => job.state === state).length })),
    },
    {
      name: 'witnessleaf_log_entries',
      says: 'Entries of the log.',
      values: [{ labels: {}, value: await archive.catalogue.log.size() }],
    },
    {
      name: 'witnessleaf_memory_bytes',
      says: 'Memory that the process holds.',
      values: [{ labels: {}, value: process.memoryUsage.rss() }],
    },
  ];
}
