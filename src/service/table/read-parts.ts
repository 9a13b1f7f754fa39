import express from 'express';
import type { Request, Response } from 'express';
import type { z } from 'zod';
import { Refusal } from '../../model/index.ts';
import type { BodyForm } from './route.ts';

/** What a body of JSON may measure: a ruling on some thousand findings. */
const JSON_BYTES = 4 * 2 ** 20;

const parseJson = express.json({ limit: JSON_BYTES, strict: false, type: () => true });

/** A body that came as something else than this route reads. */
class UnfitMedia extends Error {
  override readonly name = 'UnfitMedia';
  readonly status = 415;
}

/**
 * A part of a request as its schema has it.
 *
 * @param part  where it stands: /query, /body, /header/…
 * @throws {Refusal} malformed: it does not fit; the first place is told
 */
export function readPart<T>(schema: z.ZodType<T>, value: unknown, part: string): T {
  const read = schema.safeParse(value);
  if (read.success) return read.data;
  const issue = read.error.issues[0];
  const path = (issue?.path ?? []).map((step) => `/${String(step).replace(/~/g, '~0').replace(/\//g, '~1')}`);
  throw new Refusal('malformed', {
    pointer: `${part}${path.join('')}`,
    expected: issue?.message ?? 'something that fits',
    found: shown(issue?.path.reduce<unknown>(memberOf, value)),
  });
}

/**
 * The body of a request: parsed where it is JSON, left alone where the route reads it while it arrives.
 *
 * @throws {Refusal} malformed: it does not fit its form
 */
export async function readBody(form: BodyForm<unknown> | null, request: Request, response: Response): Promise<unknown> {
  if (form === null) return undefined;
  const found = mediaTypeOf(request);
  const taken = 'json' in form ? ['application/json'] : Object.keys(form.streamed);
  if (!taken.includes(found)) throw new UnfitMedia(`${taken.join(' or ')} is taken here, not ${found}`);
  // Whoever asked first whether to send at all is told now that everything else is in order.
  if (request.headers.expect !== undefined) response.writeContinue();
  if (!('json' in form)) return undefined;
  await new Promise<void>((done, fail) => {
    parseJson(request, response, (error?: unknown) => {
      if (error === undefined) done();
      else fail(error instanceof Error ? error : new Error('the body cannot be parsed', { cause: error }));
    });
  });
  return readPart(form.json, request.body, '/body');
}

/** The bytes of a body while they arrive. Whoever stops reading leaves the line open, for the answer. */
export function bytesOf(request: Request): AsyncIterable<Uint8Array> {
  return request.iterator({ destroyOnReturn: false }) as AsyncIterable<Uint8Array>;
}

/** The media type of a body without its parameters; empty where none is told. */
function mediaTypeOf(request: Request): string {
  return (request.headers['content-type'] ?? '').split(';')[0]!.trim().toLowerCase();
}

function memberOf(value: unknown, step: PropertyKey): unknown {
  return typeof value === 'object' && value !== null ? Reflect.get(value, step) : undefined;
}

function shown(value: unknown): string {
  return (JSON.stringify(value) ?? 'nothing').slice(0, 80);
}
