import type { Request } from 'express';
import { Refusal } from '../../model/index.ts';

/**
 * Holds what somebody is about to change against what they saw, where they say it.
 *
 * @param current  what a GET would answer with now, as JSON
 * @throws {Refusal} out-of-step: it is not what they saw
 * @source RFC 9110 13.1.1
 */
export function requireMatch(request: Request, current: unknown): void {
  const named = request.headers['if-match'];
  if (named === undefined || named.trim() === '*') return;
  const tagOf = request.app.get('etag fn') as (body: Buffer, encoding?: BufferEncoding) => string;
  const tag = tagOf(Buffer.from(JSON.stringify(current), 'utf8'));
  const isNamed = named.split(',').some((one) => one.trim() === tag);
  if (!isNamed) throw new Refusal('out-of-step', { what: 'what is to be changed', named, current: tag });
}
