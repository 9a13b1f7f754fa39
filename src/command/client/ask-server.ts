import { Refusal, type RefusalDetails, type RefusalKind } from '../../model/index.ts';
import type { ClientTools } from './client-command.ts';
import type { Server } from './server-options.ts';

/** Asks an archive over HTTP, as its owner's token lets it. */
export interface ArchiveClient {
  readonly server: Server;
  /** What a path answers, from JSON. */
  get<T>(path: string): Promise<T>;
  /** Sends JSON; what is answered, from JSON. */
  post<T>(path: string, body: unknown): Promise<T>;
  /** The bytes that a path answers, as they arrive. */
  stream(path: string, init?: RequestInit): Promise<ReadableStream<Uint8Array>>;
}

/** The members that a refusal of each kind has when it comes over HTTP; others are no refusals of the archive. */
const MEMBERS: Readonly<Record<RefusalKind, readonly string[]>> = {
  malformed: ['pointer', 'expected', 'found'],
  unidentified: [],
  'not-allowed': ['what', 'missing'],
  'not-found': ['what'],
  'out-of-step': ['what', 'named', 'current'],
  unsettled: ['what', 'findings'],
  'too-large': ['what', 'limit', 'found', 'unit'],
  unreadable: ['file', 'reason'],
  unproven: ['what', 'checks'],
  unavailable: ['what', 'reason'],
};

/**
 * A client of one archive. What it refuses is thrown here as the refusal that it was there.
 *
 * @throws {Refusal} unavailable: it cannot be reached; else of the kind that the archive names
 */
export function askServer(
  server: Server,
  { fetch: fetchIt, stop }: Pick<ClientTools, 'fetch' | 'stop'>,
): ArchiveClient {
  const ask = async (path: string, init: RequestInit = {}): Promise<Response> => {
    const headers = new Headers(init.headers);
    headers.set('Authorization', `Bearer ${server.token}`);
    const url = `${server.url}${path}`;
    const answer = await fetchIt(url, { ...init, headers, signal: stop }).catch((cause: unknown) => {
      throw new Refusal('unavailable', { what: server.url, reason: reasonOf(cause) }, cause);
    });
    if (answer.ok) return answer;
    throw await refusalIn(answer, server.url);
  };
  const json = async <T>(answer: Promise<Response>): Promise<T> => (await answer).json() as Promise<T>;
  return {
    server,
    get: (path) => json(ask(path)),
    post: (path, body) =>
      json(ask(path, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) })),
    async stream(path, init) {
      const { body } = await ask(path, init);
      return body ?? new ReadableStream({ start: (controller) => controller.close() });
    },
  };
}

/** A list as it comes over HTTP: some of it, and where it goes on. */
export interface Slice {
  readonly items: readonly unknown[];
  readonly next: string | null;
}

/** What a path answers that lists something a page at a time: its first page, with the items of all. */
export async function wholeAnswer<S extends Slice>(client: ArchiveClient, path: string): Promise<S> {
  const first = await client.get<S>(path);
  const items: unknown[] = [...first.items];
  for (let { next } = first; next !== null;) {
    const more = `${path}${path.includes('?') ? '&' : '?'}after=${encodeURIComponent(next)}`;
    const page: Slice = await client.get<S>(more);
    items.push(...page.items);
    next = page.next;
  }
  return { ...first, items, next: null };
}

/** A list that comes a page at a time, whole. */
export async function wholeList<T>(client: ArchiveClient, path: string): Promise<readonly T[]> {
  return (await wholeAnswer<Slice & { readonly items: readonly T[] }>(client, path)).items;
}

async function refusalIn(answer: Response, url: string): Promise<Refusal> {
  return problemIn(await answer.text(), `${answer.status} ${answer.statusText}`.trim(), url);
}

/** What an archive answered instead of what was asked for, as the refusal that it was there. @source RFC 9457 3 */
export function problemIn(body: string, status: string, url: string): Refusal {
  const told = membersOf(body);
  const kind = (typeof told.type === 'string' ? told.type : '').replace(/^\/api\/problems\//, '');
  const detail = typeof told.detail === 'string' ? told.detail : status;
  if (kind === 'unidentified') return new Refusal('unidentified', { reason: detail });
  const members = MEMBERS[kind as RefusalKind] as readonly string[] | undefined;
  if (members?.every((member) => member in told) !== true) {
    return new Refusal('unavailable', { what: url, reason: detail });
  }
  const details = Object.fromEntries(Object.entries(told).filter(([member]) => !ENVELOPE.includes(member)));
  return new Refusal(kind as RefusalKind, details as unknown as RefusalDetails[RefusalKind]);
}

function membersOf(body: string): Readonly<Record<string, unknown>> {
  try {
    const told: unknown = JSON.parse(body);
    return typeof told === 'object' && told !== null ? (told as Record<string, unknown>) : {};
  } catch {
    return {};
  }
}

/** @source RFC 9457 3.1 */
const ENVELOPE = ['type', 'title', 'status', 'detail', 'instance'];

function reasonOf(cause: unknown): string {
  if (cause instanceof Error && cause.cause instanceof Error && cause.cause.message !== '') return cause.cause.message;
  return cause instanceof Error ? cause.message : String(cause);
}
