import { Refusal } from '../../model/index.ts';
import { makeTimeStampRequest, requireTimeStamp, sha256, tokenOfResponse } from '../../sealing/index.ts';

/** An authority that gives time-stamps, and whom the operator trusts for them. */
export interface Authority {
  readonly url: string;
  /** Certificates in DER: the authority's own, or of those who issue for it. */
  readonly trusted: readonly Uint8Array[];
  /** How it is reached; the runtime's own without it. */
  readonly fetch?: typeof globalThis.fetch;
  /** How long it may take to answer. */
  readonly patienceMs?: number;
}

/** A token with a chain of certificates has some 10 KB. */
const MOST_BYTES = 2 ** 20;

/**
 * A time-stamp of a head from its authority: the token over the SHA-256 of the signed checkpoint as it is published,
 * verified before anybody counts on it.
 *
 * @param note  the signed checkpoint
 * @throws {Refusal} unavailable: the authority cannot be reached, or gives none
 * @throws {Refusal} unreadable: its answer is none
 * @throws {Refusal} unproven: the token is not for this head, or not by somebody who is trusted
 * @source RFC 3161 3.4: over HTTP
 */
export async function askAuthority(authority: Authority, note: string): Promise<Uint8Array> {
  const hash = await sha256(new TextEncoder().encode(note));
  const { request, nonce } = makeTimeStampRequest(hash);
  const token = tokenOfResponse(await answerTo(authority, request));
  await requireTimeStamp({ token, hash, nonce, trusted: authority.trusted });
  return token;
}

async function answerTo(authority: Authority, request: Uint8Array<ArrayBuffer>): Promise<Uint8Array> {
  const { url, fetch = globalThis.fetch, patienceMs = 30_000 } = authority;
  try {
    const response = await fetch(url, {
      method: 'POST',
      headers: { 'content-type': 'application/timestamp-query', accept: 'application/timestamp-reply' },
      body: request,
      signal: AbortSignal.timeout(patienceMs),
    });
    if (!response.ok) return refuse(`it answers with ${response.status}`);
    return await wholeOf(response);
  } catch (error) {
    if (error instanceof Refusal) throw error;
    return refuse(reasonOf(error), error);
  }
}

async function wholeOf({ body }: Response): Promise<Uint8Array> {
  const pieces: Uint8Array[] = [];
  let bytes = 0;
  for await (const piece of (body ?? []) as AsyncIterable<Uint8Array>) {
    bytes += piece.length;
    if (bytes > MOST_BYTES) return refuse('its answer is too large');
    pieces.push(piece);
  }
  return new Uint8Array(Buffer.concat(pieces));
}

function reasonOf(error: unknown): string {
  if (!(error instanceof Error)) return 'it cannot be reached';
  if (error.name === 'TimeoutError') return 'it does not answer';
  const { cause } = error;
  return `it cannot be reached (${cause instanceof Error && 'code' in cause ? String(cause.code) : error.message})`;
}

function refuse(reason: string, cause?: unknown): never {
  throw new Refusal('unavailable', { what: 'the time-stamp authority', reason }, cause);
}
