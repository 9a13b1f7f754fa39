import type { Request } from 'express';
import { Refusal } from '../model/index.ts';
import type { Configuration } from './configuration.ts';

const LOOKING = new Set(['GET', 'HEAD', 'OPTIONS']);

/**
 * Keeps another site from acting through a person's browser. Where a browser says from where a request comes, it must be
 * from here; one that carries a cookie must say so.
 *
 * @throws {Refusal} not-allowed: from another site, or with a cookie and without a word
 * @source Fetch Metadata Request Headers 2.4; RFC 6454 7
 */
export function requireOwnOrigin(request: Request, { origin }: Pick<Configuration, 'origin'>): void {
  if (LOOKING.has(request.method)) return;
  const { authorization, cookie, host } = request.headers;
  const own = origin === '' ? `${request.protocol}://${host ?? ''}` : origin;
  const from = request.headers.origin;
  const site = request.headers['sec-fetch-site'];
  const isForeign = (from !== undefined && from !== own) || (site !== undefined && site !== 'same-origin');
  const isSilent = from === undefined && site === undefined && cookie !== undefined && authorization === undefined;
  if (!isForeign && !isSilent) return;
  throw new Refusal('not-allowed', { what: 'a request from another site', missing: `the header Origin: ${own}` });
}
