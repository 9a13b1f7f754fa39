import { expect } from 'vitest';
import { browserAt, machineAt } from './caller.ts';
import type { Caller } from './caller.ts';
import { startedService } from './started-service.ts';
import type { StartedService } from './started-service.ts';

/** Good enough for everybody in these tests. */
export const PASSWORD = 'ein Blatt bleibt stehen';

type Browser = ReturnType<typeof browserAt>;
interface Invited {
  readonly person: { readonly id: string; readonly party: string };
  readonly invitation: { readonly secret: string };
}

/** A service with two parties, their people, a guest and a stranger, and one title with a part. */
export interface PeopledService extends StartedService {
  /** Of the printer, with every right: the first of all. */
  readonly printer: Browser;
  readonly publisher: Browser;
  /** Of the publisher, who may only look. */
  readonly looker: Browser;
  /** Of the publisher, who may look and send files. */
  readonly sender: Browser;
  /** Of the publisher, taken in without a right. */
  readonly idle: Browser;
  /** Of a party that was given sight. */
  readonly guest: Browser;
  /** Of a party that has nothing to do with the title. */
  readonly stranger: Browser;
  readonly ended: Caller;
  readonly badToken: Caller;
  readonly nobody: Caller;
  readonly strangerParty: string;
  readonly ids: {
    readonly title: string;
    readonly part: string;
    readonly guestParty: string;
    readonly publisherParty: string;
    readonly printerParty: string;
  };
}

/** Starts it; everything was done over HTTP, as people do it. */
export async function peopledService(
  environment: Readonly<Record<string, string>> = {},
  isChecking = false,
): Promise<PeopledService> {
  const started = await startedService(environment, isChecking);
  const { origin } = started;
  const join = async (invitation: string | undefined, signInName: string, first?: object): Promise<Browser> => {
    const browser = browserAt(origin);
    await done(browser.send('POST', '/api/accounts', { invitation, signInName, password: PASSWORD, first }), 201);
    return browser;
  };
  const first = { party: 'Offizin Weiher', person: 'Ada Weiher' };
  const printer = await join(started.service.firstLink?.split('#')[1], 'ada', first);
  const printerParty = ((await printer.get('/api/me')).json as { party: { id: string } }).party.id;
  const bring = async (party: string, person: string): Promise<Invited> =>
    (await done(printer.send('POST', '/api/parties', { party, person }), 201)) as Invited;
  const [publishing, advising, other] = [
    await bring('Verlag am Kai', 'Bruno Kai'),
    await bring('Studio Clara', 'Clara Licht'),
    await bring('Haus Dora', 'Dora Fern'),
  ];
  const publisher = await join(publishing.invitation.secret, 'bruno');
  const guest = await join(advising.invitation.secret, 'clara');
  const stranger = await join(other.invitation.secret, 'dora');
  const take = async (name: string, rights: readonly string[]): Promise<Browser> => {
    const taken = (await done(publisher.send('POST', '/api/people', { name, rights }), 201)) as Invited;
    return join(taken.invitation.secret, name);
  };
  const [looker, sender, idle] = [
    await take('Lena', ['look']),
    await take('Sven', ['look', 'send-files']),
    await take('Ivo', []),
  ];
  const sides = { publisher: publishing.person.party, printer: printerParty };
  const title = (await done(printer.send('POST', '/api/titles', { name: 'Ein Winterbuch', ...sides }), 201)) as {
    id: string;
  };
  const part = (await done(printer.send('POST', `/api/titles/${title.id}/parts`, { kind: 'book-block' }), 201)) as {
    id: string;
  };
  await done(printer.send('PUT', `/api/titles/${title.id}/sight/${advising.person.party}`), 204);
  const ended = browserAt(origin);
  await done(ended.send('POST', '/api/sessions', { signInName: 'ada', password: PASSWORD }), 201);
  const { cookie } = ended;
  await done(ended.send('DELETE', '/api/sessions/mine'), 204);
  ended.cookie = cookie;
  return {
    ...started,
    ...{ printer, publisher, looker, sender, idle, guest, stranger },
    ended,
    badToken: machineAt(origin, 'A'.repeat(43)),
    nobody: machineAt(origin),
    strangerParty: other.person.party,
    ids: {
      title: title.id,
      part: part.id,
      guestParty: advising.person.party,
      publisherParty: publishing.person.party,
      printerParty,
    },
  };
}

/** What was asked, which must have been answered like this. */
export async function done(asking: ReturnType<Caller['send']>, status: number): Promise<unknown> {
  const heard = await asking;
  expect([heard.status, heard.text.slice(0, heard.status === status ? 0 : 300)]).toEqual([status, '']);
  return heard.json;
}
