/** Somebody who asks over HTTP: a browser with its cookie, a machine with its token, or nobody. */
export interface Caller {
  readonly get: (path: string, headers?: Readonly<Record<string, string>>) => Promise<Heard>;
  readonly send: (
    method: string,
    path: string,
    body?: unknown,
    headers?: Readonly<Record<string, string>>,
  ) => Promise<Heard>;
}

/** What came back. */
export interface Heard {
  readonly status: number;
  readonly headers: Headers;
  readonly text: string;
  /** Parsed, where it is JSON. */
  readonly json: unknown;
}

/** A browser of the service's own pages; it keeps the session that it is given. */
export function browserAt(origin: string): Caller & { cookie: string } {
  const browser = {
    cookie: '',
    get: (path: string, headers = {}) => browser.send('GET', path, undefined, headers),
    async send(method: string, path: string, body?: unknown, headers: Readonly<Record<string, string>> = {}) {
      const own = { Origin: origin, ...(browser.cookie === '' ? {} : { Cookie: browser.cookie }) };
      const { heard, setCookie } = await ask(origin, method, path, body, { ...own, ...headers });
      if (setCookie !== null) browser.cookie = setCookie.split(';')[0] ?? '';
      return heard;
    },
  };
  return browser;
}

/** A machine with a token, or, without one, nobody. */
export function machineAt(origin: string, token?: string): Caller {
  const own: Readonly<Record<string, string>> = token === undefined ? {} : { Authorization: `Bearer ${token}` };
  const send: Caller['send'] = async (method, path, body, headers = {}) =>
    (await ask(origin, method, path, body, { ...own, ...headers })).heard;
  return { send, get: (path, headers) => send('GET', path, undefined, headers) };
}

async function ask(
  origin: string,
  method: string,
  path: string,
  body: unknown,
  headers: Readonly<Record<string, string>>,
): Promise<{ readonly heard: Heard; readonly setCookie: string | null }> {
  const isRaw = body instanceof Uint8Array;
  const answer = await fetch(`${origin}${path}`, {
    method,
    redirect: 'manual',
    headers: { ...(body === undefined || isRaw ? {} : { 'Content-Type': 'application/json' }), ...headers },
    body: body === undefined ? null : isRaw ? Buffer.from(body) : JSON.stringify(body),
  });
  const text = await answer.text();
  const isJson = (answer.headers.get('content-type') ?? '').includes('json') && text !== '';
  const heard = {
    status: answer.status,
    headers: answer.headers,
    text,
    json: isJson ? (JSON.parse(text) as unknown) : null,
  };
  return { heard, setCookie: answer.headers.get('set-cookie') };
}
