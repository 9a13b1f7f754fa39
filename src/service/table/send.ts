import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { Request, Response } from 'express';
import type { Problem } from '../problems.ts';
import type { Answer, HeaderSet, ServerEvent } from './answer.ts';

/** A sign of life in a stream of events, so that nobody on the way takes the line for dead. */
const BEAT_MS = 15_000;

/** Sends what a route answered with. What is private is kept by browsers only after asking again. */
export async function sendAnswer(answer: Answer, request: Request, response: Response): Promise<void> {
  if (!response.hasHeader('Cache-Control')) response.setHeader('Cache-Control', 'private, no-cache');
  if (answer.kind === 'events') return sendEvents(answer.events, response);
  if (answer.kind === 'problem') return sendProblem(answer.problem, response);
  setHeaders(answer.headers, response);
  response.status(answer.status);
  if (answer.kind === 'json') {
    response.json(answer.value);
    return;
  }
  if (answer.kind === 'bytes' && request.fresh) {
    response.removeHeader('Content-Length');
    response.status(304).end();
    return;
  }
  if (answer.kind === 'nothing' || request.method === 'HEAD') {
    response.end();
    return;
  }
  await pipeline(Readable.from(answer.bytes, { objectMode: false }), response);
}

/** Answers with a problem. @source RFC 9457 3 */
export function sendProblem({ status, body, headers }: Problem, response: Response): void {
  for (const name of ['ETag', 'Content-Length', 'Content-Disposition', 'Accept-Ranges']) response.removeHeader(name);
  setHeaders({ ...headers, 'Cache-Control': 'no-store' }, response);
  response
    .status(status)
    .type('application/problem+json')
    .send(Buffer.from(JSON.stringify(body)));
}

async function sendEvents(events: AsyncIterable<ServerEvent>, response: Response): Promise<void> {
  setHeaders({ 'Content-Type': 'text/event-stream', 'Cache-Control': 'no-store', 'X-Accel-Buffering': 'no' }, response);
  response.status(200).flushHeaders();
  const beat = setInterval(() => response.write(': still here\n\n'), BEAT_MS);
  try {
    for await (const { id, event, data } of events) {
      const isTaken = response.write(
        `${id === null ? '' : `id: ${id}\n`}event: ${event}\ndata: ${JSON.stringify(data)}\n\n`,
      );
      if (!isTaken && !response.destroyed) await untilDrained(response);
    }
  } finally {
    clearInterval(beat);
    response.end();
  }
}

async function untilDrained(response: Response): Promise<void> {
  await new Promise<void>((done) => {
    const go = (): void => {
      response.off('drain', go).off('close', go);
      done();
    };
    response.on('drain', go).on('close', go);
  });
}

/** Sets headers by name. */
function setHeaders(headers: HeaderSet, response: Response): void {
  for (const [name, value] of Object.entries(headers)) response.setHeader(name, value);
}
