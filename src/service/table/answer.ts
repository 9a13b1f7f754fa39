import type { Problem } from '../problems.ts';

/** What a route answers with. */
export type Answer =
  | { readonly kind: 'json'; readonly status: number; readonly value: unknown; readonly headers: HeaderSet }
  | { readonly kind: 'nothing'; readonly status: number; readonly headers: HeaderSet }
  | {
      readonly kind: 'bytes';
      readonly status: number;
      readonly bytes: AsyncIterable<Uint8Array>;
      readonly headers: HeaderSet;
    }
  | { readonly kind: 'events'; readonly events: AsyncIterable<ServerEvent> }
  /** For what a protocol wants and no refusal says. */
  | { readonly kind: 'problem'; readonly problem: Problem };

/** Headers by name; several of one name as a list. */
export type HeaderSet = Readonly<Record<string, string | readonly string[]>>;

/** One event of a stream of server-sent events. */
export interface ServerEvent {
  /** Where a stream goes on that was cut off; null: a sign of life without a place. */
  readonly id: string | null;
  readonly event: string;
  readonly data: unknown;
}

/** A value as JSON, with an ETag of its bytes. */
export function json(value: unknown, status = 200, headers: HeaderSet = {}): Answer {
  return { kind: 'json', status, value, headers };
}

/** Done, and there is nothing to say. */
export function nothing(status = 204, headers: HeaderSet = {}): Answer {
  return { kind: 'nothing', status, headers };
}

/** A problem that is none of the archive's refusals. */
export function refuse(problem: Problem): Answer {
  return { kind: 'problem', problem };
}

/** Events as they come, until nobody listens. */
export function eventStream(events: AsyncIterable<ServerEvent>): Answer {
  return { kind: 'events', events };
}

/** Bytes as they come, of this media type. */
export function bytes(
  stream: AsyncIterable<Uint8Array>,
  mediaType: string,
  headers: HeaderSet = {},
  status = 200,
): Answer {
  return { kind: 'bytes', status, bytes: stream, headers: { 'Content-Type': mediaType, ...headers } };
}

/** Text of this media type. */
export function text(told: string, mediaType: string, headers: HeaderSet = {}): Answer {
  const all = new TextEncoder().encode(told);
  return bytes(
    (async function* () {
      yield all;
    })(),
    `${mediaType}; charset=utf-8`,
    { 'Content-Length': String(all.byteLength), ...headers },
  );
}
