import type { Request } from 'express';
import type { Blobs, ByteRange } from '../../archive/index.ts';
import { Refusal } from '../../model/index.ts';
import { formatContentDigest } from '../content-digest.ts';
import { problem } from '../problems.ts';
import type { Answer } from './answer.ts';
import { bytes, refuse } from './answer.ts';

/** How a blob is handed out. */
export interface BlobTerms {
  readonly mediaType: string;
  /** Under which it is saved; null: to be looked at in place. */
  readonly name: string | null;
  /** Its address never gives other bytes: whoever has them need not ask again. */
  readonly isLasting?: boolean;
}

/** A year, the longest that browsers are told. @source RFC 9111 5.2.2.1; RFC 8246 2 */
const LASTING = 'private, max-age=31536000, immutable';

/**
 * A blob or one range of it. Its ETag is its hash, so that what somebody has is never sent again.
 *
 * @throws {Refusal} not-found: there is no such blob
 * @source RFC 9110 14; RFC 9530 2
 */
export async function blobAnswer(blobs: Blobs, sha256: string, request: Request, terms: BlobTerms): Promise<Answer> {
  const size = await blobs.sizeOf(sha256);
  if (size === null) throw new Refusal('not-found', { what: 'the bytes' });
  const tag = `"${sha256}"`;
  const headers = {
    ETag: tag,
    'Accept-Ranges': 'bytes',
    ...(terms.isLasting === true ? { 'Cache-Control': LASTING } : {}),
    ...(terms.name === null ? {} : { 'Content-Disposition': disposition(terms.name) }),
  };
  const range = rangeOf(request, size, tag);
  if (range === 'none') {
    return refuse(problem('no-such-range', `The file has ${size} bytes.`, {}, { 'Content-Range': `bytes */${size}` }));
  }
  if (range === null) {
    const whole = { ...headers, 'Content-Length': String(size), 'Content-Digest': formatContentDigest(sha256) };
    return bytes(blobs.read(sha256), terms.mediaType, whole);
  }
  const part = {
    ...headers,
    'Content-Length': String(range.last - range.first + 1),
    'Content-Range': `bytes ${range.first}-${range.last}/${size}`,
    'Repr-Digest': formatContentDigest(sha256),
  };
  return bytes(blobs.readRange(sha256, range), terms.mediaType, part, 206);
}

/** Bytes that were made for whoever asked, and are not kept. */
export function madeAnswer(made: Uint8Array, mediaType: string, isLasting: boolean): Answer {
  const caching = isLasting ? { 'Cache-Control': LASTING } : {};
  return bytes(once(made), mediaType, { 'Content-Length': String(made.byteLength), ...caching });
}

async function* once(all: Uint8Array): AsyncGenerator<Uint8Array> {
  yield all;
}

/** Null: everything; several ranges at once, and what is no range, are passed over as they may be. */
function rangeOf(request: Request, size: number, tag: string): ByteRange | 'none' | null {
  const { range, 'if-range': ifRange } = request.headers;
  if (ifRange !== undefined && ifRange !== tag) return null;
  const [, from = '', to = ''] = /^bytes=(\d{0,15})-(\d{0,15})$/.exec(range ?? '') ?? [];
  if (from === '' && to === '') return null;
  const first = from === '' ? Math.max(0, size - Number(to)) : Number(from);
  const last = from === '' || to === '' ? size - 1 : Math.min(size - 1, Number(to));
  return first <= last && first < size && !(from === '' && Number(to) === 0) ? { first, last } : 'none';
}

/** @source RFC 6266 4; RFC 8187 3.2 */
export function disposition(name: string): string {
  const plain = name.replace(/[^\x20-\x7e]|["\\%]/g, '_');
  const whole = encodeURIComponent(name).replace(
    /['()*]/g,
    (sign) => `%${sign.charCodeAt(0).toString(16).toUpperCase()}`,
  );
  return `attachment; filename="${plain}"; filename*=UTF-8''${whole}`;
}
