import { once } from 'node:events';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, describe, expect, it } from 'vitest';
import { openAuthority } from '../standards/sealing/authority.ts';
import { hasOpenssl, openDesk } from '../standards/sealing/openssl.ts';
import { peopledService } from './peopled-service.ts';
import { startedService } from './started-service.ts';

const TRY_LATER_MS = 10 * 60_000;
const POLL = { timeout: 20_000 };

describe.skipIf(!hasOpenssl)('an authority for time-stamps that fails', async () => {
  const desk = openDesk();
  const { answer } = openAuthority(desk);
  /** How it answers at the moment; null: the line is cut. */
  let reply: ((request: Uint8Array) => Uint8Array) | null = null;
  const authority = createServer((request, response) => {
    const pieces: Uint8Array[] = [];
    request.on('data', (piece: Uint8Array) => pieces.push(piece));
    request.on('end', () => {
      if (reply === null) request.socket.destroy();
      else response.end(reply(new Uint8Array(Buffer.concat(pieces))));
    });
  }).listen(0, '127.0.0.1');
  await once(authority, 'listening');
  const url = `http://127.0.0.1:${(authority.address() as AddressInfo).port}/`;
  const service = await peopledService({
    WITNESSLEAF_TIME_STAMP_URL: url,
    WITNESSLEAF_TIME_STAMP_TRUST: desk.path('root.pem'),
  });
  afterAll(() => {
    authority.close();
    desk.clear();
  });
  const { guest } = service;

  /** The first head of the log, as its time-stamp stands. */
  const stamp = async () =>
    ((await guest.get('/api/log/heads/1/time-stamps')).json as { items: readonly Record<string, unknown>[] }).items[0];
  const state = async () => (await guest.get('/api/archive')).json as { pendingTimeStamps: unknown };
  /** Starts the service again, some time later, which is when it asks again. */
  const afterAnotherTry =
    <T>(look: () => Promise<T>) =>
    async (): Promise<T> => {
      service.wait(TRY_LATER_MS);
      await service.restart();
      return look();
    };

  it('leaves the service at work, is shown with its cause, and is asked again until it gives one', async () => {
    const cut = /^the time-stamp authority: it cannot be reached/;
    await expect
      .poll(stamp, POLL)
      .toMatchObject({ state: 'pending', token: null, cause: expect.stringMatching(cut) as string });
    expect(await state()).toMatchObject({
      timeStamps: true,
      pendingTimeStamps: { heads: 1, since: '2031-03-02T09:00:00.000Z', cause: expect.stringMatching(cut) as string },
    });

    reply = () => Buffer.from('good evening');
    await expect
      .poll(afterAnotherTry(stamp), POLL)
      .toMatchObject({ state: 'pending', cause: 'time-stamp: it is not an answer of an authority' });

    // A good answer to another request: the nonce is what tells an old token from a new one.
    reply = (request) => answer(otherNonce(request));
    await expect
      .poll(afterAnotherTry(stamp), POLL)
      .toMatchObject({ state: 'pending', cause: expect.stringContaining('nonce') as string });

    reply = answer;
    await expect.poll(afterAnotherTry(stamp), POLL).toMatchObject({ state: 'held', authority: url });
    await expect.poll(afterAnotherTry(state), POLL).toMatchObject({ pendingTimeStamps: null });
    desk.put('token.der', Buffer.from((await stamp())?.token as string, 'base64'));
    desk.put('head.txt', (await service.archive.catalogue.log.checkpoint(1))?.note ?? '');
    const how = ['-data', 'head.txt', '-in', 'token.der', '-token_in', '-CAfile', 'root.pem'];
    expect(desk.status('ts', '-verify', ...how)).toBe(0);
  });
});

it('an authority without certificates that it is known by is refused at the start', async () => {
  const url = { WITNESSLEAF_TIME_STAMP_URL: 'http://127.0.0.1:1/' };
  await expect(startedService(url)).rejects.toThrow(
    'WITNESSLEAF_TIME_STAMP_TRUST: a file with certificates, without which no time-stamp can be believed expected, nothing found',
  );
});

/** The request with one bit of its nonce changed: the last integer before `certReq` TRUE. @source RFC 3161 2.4.1 */
function otherNonce(request: Uint8Array): Uint8Array {
  const changed = new Uint8Array(request);
  const at = request.length - 4;
  changed[at] = (changed[at] ?? 0) ^ 1;
  return changed;
}
