/** Somebody who asks the service over HTTP: by the session of a browser, or by a token. */
export interface Visitor {
  /** @throws {Error} it was not answered with success; the answer is in the message */
  get<T>(path: string): Promise<T>;
  /** @throws {Error} as `get` */
  post<T>(path: string, body: unknown): Promise<T>;
  /** @throws {Error} as `get` */
  put(path: string): Promise<void>;
}

/** A browser at the service's own pages; it keeps the session that it is given. */
export function browserAt(origin: string): Visitor {
  let cookie = '';
  return visitor(
    origin,
    () => ({ Origin: origin, ...(cookie === '' ? {} : { Cookie: cookie }) }),
    (answer) => (cookie = answer.headers.get('set-cookie')?.split(';')[0] ?? cookie),
  );
}

/** A program with a token. */
export function programAt(origin: string, token: string): Visitor {
  return visitor(origin, () => ({ Authorization: `Bearer ${token}` }));
}

function visitor(
  origin: string,
  headers: () => Readonly<Record<string, string>>,
  onAnswer: (answer: Response) => void = () => undefined,
): Visitor {
  const ask = async (method: string, path: string, body?: unknown): Promise<string> => {
    const answer = await fetch(`${origin}${path}`, {
      method,
      headers: { ...headers(), ...(body === undefined ? {} : { 'Content-Type': 'application/json' }) },
      body: body === undefined ? null : JSON.stringify(body),
    });
    onAnswer(answer);
    const text = await answer.text();
    if (!answer.ok) throw new Error(`${method} ${path} was answered with ${answer.status}: ${text}`);
    return text;
  };
  return {
    get: async <T>(path: string) => JSON.parse(await ask('GET', path)) as T,
    post: async <T>(path: string, body: unknown) => JSON.parse(await ask('POST', path, body)) as T,
    put: async (path) => void (await ask('PUT', path)),
  };
}
