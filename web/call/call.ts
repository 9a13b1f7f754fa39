import { Trouble, troubleIn } from './trouble.ts';

/** What a call sends along. */
export interface Sent {
  /** Sent as JSON. */
  readonly body?: unknown;
  /** The state that was seen, as its ETag; the service refuses where it has moved on. */
  readonly ifMatch?: string | null;
  readonly signal?: AbortSignal;
  readonly headers?: Readonly<Record<string, string>>;
  /** False: nobody being signed in is an answer, no reason to ask for a password. */
  readonly isRenewing?: boolean;
}

/** What came back, with the name of its state. */
export interface Heard<T> {
  readonly value: T;
  readonly etag: string | null;
}

/** Whoever can open a session again while a call waits. */
export type Renewal = () => Promise<boolean>;

let renew: Renewal = () => Promise.resolve(false);

/** Says who opens a session that has run out. */
export function renewBy(renewal: Renewal): void {
  renew = renewal;
}

type Method = 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE';

/**
 * Asks the service. Where the session has run out, the call waits until somebody has signed in again, and is made once
 * more: what was written is never lost by it.
 *
 * @throws {Trouble} whatever the service refuses, or that it cannot be reached
 */
export async function call<T>(method: Method, path: string, sent: Sent = {}): Promise<Heard<T>> {
  const answer = await ask(method, path, sent);
  if (answer.status === 401 && sent.isRenewing !== false && (await renew())) {
    return heardIn<T>(await ask(method, path, sent));
  }
  return heardIn<T>(answer);
}

/** The same for whoever only wants what came back. @throws {Trouble} as `call` */
export async function read<T>(path: string, signal?: AbortSignal): Promise<T> {
  return (await call<T>('GET', path, signal === undefined ? {} : { signal })).value;
}

/** The items of a list that comes in one piece. @throws {Trouble} as `call` */
export async function readItems<T>(path: string, signal?: AbortSignal): Promise<readonly T[]> {
  return (await read<{ readonly items: readonly T[] }>(path, signal)).items;
}

/** Every item of a list that comes in pieces. @throws {Trouble} as `call` */
export async function readAll<T>(path: string, signal?: AbortSignal): Promise<readonly T[]> {
  const items: T[] = [];
  const joint = path.includes('?') ? '&' : '?';
  let after = '';
  do {
    const piece: { readonly items: readonly T[]; readonly next: string | null } = await read(
      `${path}${joint}most=200${after}`,
      signal,
    );
    items.push(...piece.items);
    after = piece.next === null ? '' : `&after=${encodeURIComponent(piece.next)}`;
  } while (after !== '');
  return items;
}

/** The service knows by Origin and Sec-Fetch-Site, which the browser adds, that a request is of its own pages. */
async function ask(method: Method, path: string, { body, ifMatch, signal, headers: more }: Sent): Promise<Response> {
  const headers = new Headers({ Accept: 'application/json', ...more });
  if (body !== undefined) headers.set('Content-Type', 'application/json');
  if (ifMatch != null) headers.set('If-Match', ifMatch);
  try {
    return await fetch(path, {
      method,
      headers,
      credentials: 'same-origin',
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      ...(signal === undefined ? {} : { signal }),
    });
  } catch (error) {
    if (signal?.aborted === true) throw error;
    throw new Trouble('unreachable', 'The service cannot be reached.');
  }
}

async function heardIn<T>(answer: Response): Promise<Heard<T>> {
  if (!answer.ok) throw await troubleIn(answer);
  const isJson = (answer.headers.get('content-type') ?? '').includes('json');
  const value = (isJson ? await answer.json() : null) as T;
  return { value, etag: answer.headers.get('etag') };
}
