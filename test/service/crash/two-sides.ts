import { makeCertificate, makeKeyPair, sha256Hex } from '../../../src/sealing/index.ts';
import type { SigningKey } from '../../../src/sealing/index.ts';
import { browserAt, machineAt } from '../caller.ts';
import type { Caller } from '../caller.ts';

/** Somebody of one side, as the client of that side knows them from one life of the service to the next. */
export interface Side {
  readonly name: string;
  readonly organisation: string;
  readonly token: string;
  readonly key: SigningKey;
}

/** Two sides of a title over HTTP. */
export interface TwoSides {
  readonly printer: Side;
  readonly publisher: Side;
  readonly title: string;
  readonly part: string;
}

const PASSWORD = 'ein Blatt bleibt stehen';

/** Comes in by the first link, brings in the other side, opens a title and a part; keys are introduced, tokens made. */
export async function bringInSides(origin: string, firstLink: string): Promise<TwoSides> {
  const [first, other] = [browserAt(origin), browserAt(origin)];
  const house = { party: 'Offizin Weiher', person: 'Ada Weiher' };
  const come = (who: Caller, invitation: string, signInName: string, more: object): Promise<unknown> =>
    asked(who.send('POST', '/api/accounts', { invitation, signInName, password: PASSWORD, ...more }), 201);
  await come(first, firstLink.split('#')[1] ?? '', 'ada', { first: house });
  const publishing = { party: 'Verlag am Kai', person: 'Bruno Kai' };
  const { person, invitation } = await asked<{ person: { party: string }; invitation: { secret: string } }>(
    first.send('POST', '/api/parties', publishing),
    201,
  );
  await come(other, invitation.secret, 'bruno', {});
  const { party } = (await first.get('/api/me')).json as { party: { id: string } };
  const sides = { name: 'Ein Winterbuch', publisher: person.party, printer: party.id };
  const title = await asked<{ id: string }>(first.send('POST', '/api/titles', sides), 201);
  const part = await asked<{ id: string }>(
    first.send('POST', `/api/titles/${title.id}/parts`, { kind: 'book-block' }),
    201,
  );
  const printer = await sideOf(first, house);
  const publisher = await sideOf(other, publishing);
  for (const { token, key } of [printer, publisher]) await introduce(machineAt(origin, token), key);
  return { printer, publisher, title: title.id, part: part.id };
}

/** A new key of this person. */
export async function newKey({ name, organisation }: Pick<Side, 'name' | 'organisation'>): Promise<SigningKey> {
  const keys = await makeKeyPair('ecdsa-p256');
  const person = { commonName: name, organisation };
  const validity = { from: '2020-01-01T00:00:00Z', until: '2045-01-01T00:00:00Z' };
  return { certificate: await makeCertificate({ person, keys, ...validity }), privateKey: keys.privateKey };
}

/** Introduces a certificate. @returns its hash */
export async function introduce(who: Caller, { certificate }: SigningKey): Promise<string> {
  const der = Buffer.from(certificate).toString('base64');
  await asked(who.send('POST', '/api/certificates', { der }), 201);
  return sha256Hex(certificate);
}

/** What was answered; an error where the status is another than it has to be. */
export async function asked<T>(asking: ReturnType<Caller['send']>, status: number): Promise<T> {
  const heard = await asking;
  if (heard.status === status) return heard.json as T;
  throw new Error(`answered ${heard.status}, not ${status}: ${heard.text.slice(0, 300)}`);
}

async function sideOf(who: Caller, { party, person }: { party: string; person: string }): Promise<Side> {
  const { secret } = await asked<{ secret: string }>(who.send('POST', '/api/tokens', { label: 'desk' }), 201);
  const names = { name: person, organisation: party };
  return { ...names, token: secret, key: await newKey(names) };
}
