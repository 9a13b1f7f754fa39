import { describe, expect, test } from 'vitest';
import { browserAt, machineAt } from './caller.ts';
import { startedService } from './started-service.ts';
import type { StartedService } from './started-service.ts';

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const PASSWORD = 'ein Blatt bleibt stehen';

/** Uses the link of the first start. */
async function firstPerson(started: StartedService): Promise<ReturnType<typeof browserAt>> {
  const browser = browserAt(started.origin);
  const invitation = started.service.firstLink?.split('#')[1];
  const first = { party: 'Offizin Weiher', person: 'Ada Weiher' };
  const made = await browser.send('POST', '/api/accounts', {
    invitation,
    signInName: 'ada',
    password: PASSWORD,
    first,
  });
  expect(made.status).toBe(201);
  return browser;
}

describe('the first start', () => {
  test('prints a link that makes the first account, signs it in, and is good once', async () => {
    const started = await startedService();
    const browser = await firstPerson(started);
    const person = { id: expect.any(String) as string, name: 'Ada Weiher', party: expect.any(String) as string };
    expect((await browser.get('/api/me')).json).toEqual({
      person: { ...person, rights: ['look', 'send-files', 'sign'] },
      party: { id: expect.any(String) as string, name: 'Offizin Weiher' },
    });
    const invitation = started.service.firstLink?.split('#')[1];
    const again = await browserAt(started.origin).send('POST', '/api/accounts', {
      invitation,
      signInName: 'eve',
      password: PASSWORD,
      first: { party: 'Another', person: 'Eve' },
    });
    expect(again.json).toEqual({
      type: '/api/problems/not-found',
      title: 'There is nothing of this name to be seen',
      status: 404,
      detail: 'an invitation that is still good: not found',
      what: 'an invitation that is still good',
    });
  });

  test('two people who hold two links of two starts cannot both be the first', async () => {
    const started = await startedService();
    const link = started.service.firstLink?.split('#')[1];
    const ask = (signInName: string) =>
      machineAt(started.origin).send('POST', '/api/accounts', {
        invitation: link,
        signInName,
        password: PASSWORD,
        first: { party: signInName, person: signInName },
      });
    const statuses = (await Promise.all([ask('one'), ask('two'), ask('three')])).map(({ status }) => status);
    expect(statuses.sort()).toEqual([201, 404, 404]);
  });
});

describe('sessions', () => {
  test('signing out ends the session for good, also for whoever copied the cookie', async () => {
    const started = await startedService();
    const browser = await firstPerson(started);
    const { cookie } = browser;
    expect((await browser.send('DELETE', '/api/sessions/mine')).status).toBe(204);
    const copied = await machineAt(started.origin).get('/api/me', { Cookie: cookie });
    expect([copied.status, copied.headers.get('www-authenticate')]).toEqual([401, 'Bearer']);
  });

  test('after twelve hours people sign in again', async () => {
    const started = await startedService();
    const browser = await firstPerson(started);
    started.wait(12 * HOUR_MS - 1);
    expect((await browser.get('/api/me')).status).toBe(200);
    started.wait(1);
    expect((await browser.get('/api/me')).status).toBe(401);
    expect((await browser.send('POST', '/api/sessions', { signInName: 'ADA', password: PASSWORD })).status).toBe(201);
    expect((await browser.get('/api/me')).status).toBe(200);
  });

  test('the cookie is out of reach of scripts and of other sites, and over HTTPS bound to the host', async () => {
    const plain = await startedService();
    const safe = await startedService({ WITNESSLEAF_ORIGIN: 'https://proof.example' });
    const cookieOf = async (started: StartedService, origin: string): Promise<string> => {
      const answer = await fetch(`${started.origin}/api/accounts`, {
        method: 'POST',
        headers: { 'Content-Type': 'application/json', Origin: origin },
        body: JSON.stringify({
          invitation: started.service.firstLink?.split('#')[1],
          signInName: 'ada',
          password: PASSWORD,
          first: { party: 'A', person: 'B' },
        }),
      });
      return answer.headers.get('set-cookie')?.replace(/=[\w-]{43};/, '=…;') ?? '';
    };
    expect(await cookieOf(plain, plain.origin)).toBe('witnessleaf=…; Path=/; Max-Age=43200; HttpOnly; SameSite=Strict');
    expect(await cookieOf(safe, 'https://proof.example')).toBe(
      '__Host-witnessleaf=…; Path=/; Max-Age=43200; HttpOnly; SameSite=Strict; Secure',
    );
    expect(safe.service.firstLink).toMatch(/^https:\/\/proof\.example\/invitation#[\w-]{43}$/);
  });

  test('a wrong name and a wrong password are refused in the same bytes', async () => {
    const started = await startedService();
    await firstPerson(started);
    const stranger = machineAt(started.origin);
    const wrongName = await stranger.send('POST', '/api/sessions', { signInName: 'nobody', password: PASSWORD });
    const wrongPassword = await stranger.send('POST', '/api/sessions', { signInName: 'ada', password: 'guess' });
    expect(wrongName.status).toBe(401);
    expect(wrongPassword.text).toBe(wrongName.text);
  });

  test('five wrong passwords lock the account for a minute, each further one for twice as long, and nobody is told', async () => {
    const started = await startedService();
    await firstPerson(started);
    const stranger = machineAt(started.origin);
    const attempt = async (password: string): Promise<number> =>
      (await stranger.send('POST', '/api/sessions', { signInName: 'ada', password })).status;
    for (let tries = 0; tries < 4; tries++) await attempt('guess');
    expect(await attempt(PASSWORD)).toBe(201);
    for (let tries = 0; tries < 5; tries++) await attempt('guess');
    expect(await attempt(PASSWORD)).toBe(401);
    started.wait(MINUTE_MS);
    expect(await attempt('guess')).toBe(401);
    started.wait(2 * MINUTE_MS - 1);
    expect(await attempt(PASSWORD)).toBe(401);
    started.wait(1);
    expect(await attempt(PASSWORD)).toBe(201);
  });

  test('one address gets so many tries a minute and then a 429 in the form of every problem', async () => {
    const started = await startedService({ WITNESSLEAF_SIGN_INS_PER_MINUTE: '2' });
    const ask = () => machineAt(started.origin).send('POST', '/api/sessions', { signInName: 'a', password: 'b' });
    expect([(await ask()).status, (await ask()).status]).toEqual([401, 401]);
    const third = await ask();
    expect([third.status, third.headers.get('content-type'), third.json]).toEqual([
      429,
      'application/problem+json',
      {
        type: '/api/problems/too-many',
        title: 'Asked too often',
        status: 429,
        detail: 'At most 2 a minute; please wait.',
        limit: 2,
      },
    ]);
    expect(Number(third.headers.get('retry-after'))).toBeGreaterThan(0);
  });

  test('a changed password ends every other session', async () => {
    const started = await startedService();
    const browser = await firstPerson(started);
    const other = browserAt(started.origin);
    await other.send('POST', '/api/sessions', { signInName: 'ada', password: PASSWORD });
    const next = 'ein anderes Blatt bleibt';
    const wrong = await browser.send('PUT', '/api/account/password', { present: 'guess', next });
    expect(wrong.status).toBe(401);
    const short = await browser.send('PUT', '/api/account/password', { present: PASSWORD, next: 'zu kurz' });
    expect(short.status).toBe(400);
    const changed = await browser.send('PUT', '/api/account/password', { present: PASSWORD, next });
    expect(changed.status).toBe(204);
    expect([(await browser.get('/api/me')).status, (await other.get('/api/me')).status]).toEqual([200, 401]);
  });

  test('letters of two keyboards are one password', async () => {
    const started = await startedService();
    const browser = await firstPerson(started);
    const composed = 'Fünf Blätter für Zoë'.normalize('NFC');
    await browser.send('PUT', '/api/account/password', { present: PASSWORD, next: composed });
    const taken = await browserAt(started.origin).send('POST', '/api/sessions', {
      signInName: 'ada',
      password: composed.normalize('NFD'),
    });
    expect(taken.status).toBe(201);
  });
});

describe('requests from another site', () => {
  test('are refused, with or without a session; silence with a cookie is refused too', async () => {
    const started = await startedService();
    const browser = await firstPerson(started);
    const foreign = { Origin: 'https://elsewhere.example' };
    const statuses = [
      await browser.send('POST', '/api/tokens', { label: 'x' }, foreign),
      await browser.send('POST', '/api/tokens', { label: 'x' }, { 'Sec-Fetch-Site': 'cross-site' }),
      await machineAt(started.origin).send('POST', '/api/tokens', { label: 'x' }, { Cookie: browser.cookie }),
      await machineAt(started.origin).send('POST', '/api/sessions', { signInName: 'ada', password: PASSWORD }, foreign),
      await browser.send('POST', '/api/tokens', { label: 'x' }),
    ].map(({ status }) => status);
    expect(statuses).toEqual([403, 403, 403, 403, 201]);
  });
});

describe('tokens', () => {
  test('serve a machine until they are ended, tell their secret once, and make no further ones', async () => {
    const started = await startedService();
    const browser = await firstPerson(started);
    const made = (await browser.send('POST', '/api/tokens', { label: 'file desk', days: 1 })).json as {
      readonly id: string;
      readonly secret: string;
    };
    const shown = {
      id: made.id,
      label: 'file desk',
      made: '2031-03-02T09:00:00.000Z',
      until: '2031-03-03T09:00:00.000Z',
    };
    expect(made).toEqual({ ...shown, secret: expect.stringMatching(/^[\w-]{43}$/) as string });
    expect((await browser.get('/api/tokens')).json).toEqual({ items: [shown], next: null });
    const machine = machineAt(started.origin, made.secret);
    expect((await machine.get('/api/me')).status).toBe(200);
    expect((await machine.send('POST', '/api/tokens', { label: 'another' })).json).toMatchObject({
      type: '/api/problems/not-allowed',
      missing: 'a session of the person',
    });
    expect((await browser.send('DELETE', `/api/tokens/${made.id}`)).status).toBe(204);
    expect((await machine.get('/api/me')).status).toBe(401);
  });

  test('run out', async () => {
    const started = await startedService();
    const browser = await firstPerson(started);
    const made = (await browser.send('POST', '/api/tokens', { label: 'x', days: 1 })).json as {
      readonly secret: string;
    };
    started.wait(24 * HOUR_MS);
    expect((await machineAt(started.origin, made.secret).get('/api/me')).status).toBe(401);
  });

  test('a session serves no machine and a token no browser', async () => {
    const started = await startedService();
    const browser = await firstPerson(started);
    const made = (await browser.send('POST', '/api/tokens', { label: 'x' })).json as { readonly secret: string };
    const session = browser.cookie.split('=')[1] ?? '';
    const statuses = [
      await machineAt(started.origin, session).get('/api/me'),
      await machineAt(started.origin).get('/api/me', { Cookie: `witnessleaf=${made.secret}` }),
      await machineAt(started.origin, 'wrong').get('/api/me', { Cookie: browser.cookie }),
    ].map(({ status }) => status);
    expect(statuses).toEqual([401, 401, 401]);
  });
});

test('no secret gets into the journal', async () => {
  const started = await startedService();
  const browser = await firstPerson(started);
  const made = (await browser.send('POST', '/api/tokens', { label: 'x' })).json as { readonly secret: string };
  await machineAt(started.origin, made.secret).get(`/api/me?invitation=${made.secret}`);
  await browser.send('POST', '/api/sessions', { signInName: 'ada', password: PASSWORD });
  const written = JSON.stringify(started.journal);
  const secrets = [
    made.secret,
    PASSWORD,
    browser.cookie.split('=')[1] ?? '?',
    started.service.firstLink?.split('#')[1] ?? '?',
  ];
  expect(secrets.filter((secret) => written.includes(secret))).toEqual([]);
  expect(started.journal.map(({ route }) => route)).toContain('/api/tokens');
});
