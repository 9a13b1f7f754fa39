import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CAST, TITLE } from '../../../demo/story/cast.ts';
import { playAccounts } from '../../../demo/story/chapters/accounts.ts';
import { playKeys } from '../../../demo/story/chapters/keys.ts';
import { runAsking, runInProcess } from '../../../demo/story/run-in-process.ts';
import { onTitle, setStage, SIGNING, type Ran, type Stage, type StageOrder } from '../../../demo/story/stage.ts';
import { openArchive } from '../../../src/archive/index.ts';
import { openJournal, readConfiguration, startService } from '../../../src/service/index.ts';
import type { Statement } from '../../../src/model/index.ts';
import { makeCertificate, makeKeyPair } from '../../../src/sealing/index.ts';
import { FROM, UNTIL } from '../../sealing/people.ts';
import { tinyBooks } from '../../story/tiny-books.ts';

/** An archive that shows one thing and has another signed, or one history to one side and another to the other. */

const root = mkdtempSync(join(tmpdir(), 'witnessleaf-lies-'));
const running: (() => Promise<void>)[] = [];
let stage: Stage;
/** A copy of the archive, key and all, that went on by itself. */
let other: Stage;

async function serve(folder: string): Promise<{ readonly origin: string; readonly firstLink: string | null }> {
  const archive = await openArchive(folder, Date.now());
  const service = await startService({
    archive,
    configuration: readConfiguration({ WITNESSLEAF_FOLDER: folder, WITNESSLEAF_PORT: '0', WITNESSLEAF_WORKERS: '1' }),
    journal: openJournal('silent', { write: () => undefined }),
    now: () => Date.now(),
    passwordCost: { memoryKib: 8, passes: 1 },
  });
  running.push(async () => {
    await service.stop();
    archive.close();
  });
  return service;
}

const stopAll = async (): Promise<void> => {
  for (const stop of running.splice(0)) await stop();
};

beforeAll(async () => {
  const books = await tinyBooks(join(root, 'files'));
  const first = await serve(join(root, 'archive'));
  const order: StageOrder = {
    ...{ origin: first.origin, firstLink: first.firstLink ?? '', cast: CAST, title: TITLE, books },
    ...{ homes: join(root, 'people'), run: runInProcess, tell: () => undefined },
  };
  const early = setStage(order);
  await playAccounts(early);
  await playKeys(early);
  await early.run(CAST.printer, ['send', books.dummy, ...onTitle(early), '--kind', 'dummy']);
  await untilRead(early);
  await stopAll();
  cpSync(join(root, 'archive'), join(root, 'copy'), { recursive: true });
  const goOn = async (folder: string): Promise<Stage> => {
    const { origin } = await serve(join(root, folder));
    const stageThere = setStage({ ...order, origin });
    for (const [person, token] of early.tokens) stageThere.tokens.set(person, token);
    return Object.assign(stageThere, { ids: early.ids });
  };
  [stage, other] = [await goOn('archive'), await goOn('copy')];
  await grow(stage, 1);
}, 120_000);

afterAll(async () => {
  await stopAll();
  rmSync(root, { recursive: true, force: true });
});

describe('before anything is signed, an archive that lies is told', { timeout: 60_000 }, () => {
  it.each<[string, string, (statement: Statement) => object]>([
    ['another file', 'subject/dummy/sha256', (one) => withDummy(one, { sha256: 'ab'.repeat(32) })],
    ['another part', 'subject/part/id', (one) => withPart(one, { id: 'anotherpart12345', name: 'Case' })],
    ['another title', 'title/id', (one) => ({ ...one, title: { ...one.title, id: 'anothertitle1234' } })],
    ['another kind', 'kind', (one) => ({ ...one, kind: 'withdrawal', subject: withdrawalOf(one) })],
    ['another certificate', 'signer/certificate', (one) => withSigner(one, { certificate: 'cd'.repeat(32) })],
    ['another person', 'signer/name', (one) => withSigner(one, { name: CAST.printer.name })],
    ['another house', 'signer/organisation', (one) => withSigner(one, { organisation: 'Haus Niemand' })],
    ['the other side', 'signer/party', (one) => withSigner(one, { party: 'printer' })],
    ['a day of last year', 'at', (one) => ({ ...one, at: `${Number(one.at.slice(0, 4)) - 1}${one.at.slice(4)}` })],
  ])('a draft that names %s', async (_what, what, lie) => {
    const told = await signOffAsking(drafting(lie));
    expect(told.ran).toMatchObject({ exit: 1, out: '' });
    expect(told.ran.err).toMatch(new RegExp(`^witnessleaf: the draft: .*${what}`, 'm'));
    expect(told.sent).toEqual([]);
  });

  it.each<[string, string, (head: Statement['head']) => object]>([
    ['a later head that was never signed', 'unproven', (head) => ({ ...head, size: head.size + 3 })],
    ['the head that was met, with another root', 'rewritten', (head) => ({ ...head, root: 'ef'.repeat(32) })],
    ['a head from before the one that was met', 'one of \\d+', (head) => ({ ...head, size: head.size - 1 })],
    ['a head of another log', 'witnessleaf/another', (head) => ({ ...head, origin: 'witnessleaf/another' })],
  ])('a draft that names %s', async (_what, found, lie) => {
    const told = await signOffAsking(drafting((one) => ({ ...one, head: lie(one.head) })));
    expect(told.ran).toMatchObject({ exit: 1, out: '' });
    expect(told.ran.err).toMatch(new RegExp(`the archive’s log: .*${found} found`));
    expect(told.sent).toEqual([]);
  });

  it('a log from which an entry is gone, shown by a copy that is older', async () => {
    const told = await signOffAsking(everythingFrom(other));
    expect(told.ran).toMatchObject({ exit: 1, out: '' });
    expect(told.ran.err).toContain('the log that was seen before, continued expected, shrunk found');
    expect(told.sent).toEqual([]);
  });

  it('another history under a later head, shown by a copy that went on by itself', async () => {
    await grow(other, 2);
    const whole = await signOffAsking(everythingFrom(other));
    expect(whole.ran.err).toContain('the log that was seen before, continued expected, rewritten found');
    // met honestly first: then only the draft, and the proof that is asked for it, come from the copy
    const late = await signOffAsking((path, init, honest) =>
      /drafts$|consistency/.test(path) ? everythingFrom(other)(path, init, honest) : honest(),
    );
    expect(late.ran).toMatchObject({ exit: 1, out: '' });
    expect(late.ran.err).toMatch(/a head that continues the one of \d+ entries expected, one that is rewritten found/);
    expect([...whole.sent, ...late.sent]).toEqual([]);
  });

  it('a later head with a proof of another one', async () => {
    const told = await signOffAsking(async (path, _init, honest) => {
      if (path.endsWith('/drafts')) await grow(stage, 1);
      const answer = await honest();
      if (!path.includes('/consistency')) return answer;
      const { note } = (await answer.json()) as { readonly note: string };
      return Response.json({ note, proof: [] });
    });
    expect(told.ran.err).toContain('one that is unproven found');
    expect(told.sent).toEqual([]);
  });

  it('and an honest one whose log has grown in the meantime is believed', async () => {
    const told = await signOffAsking(async (path, _init, honest) => {
      if (path.endsWith('/drafts')) await grow(stage, 1);
      return honest();
    });
    expect(told.ran).toMatchObject({ exit: 0 });
    expect(told.sent).toHaveLength(1);
    expect(told.asked.filter((path) => path.includes('/consistency'))).not.toEqual([]);
  });
});

/** How an archive answers: the path, what was asked, and what it would answer honestly. */
type Answering = (path: string, init: RequestInit | undefined, honest: () => Promise<Response>) => Promise<Response>;

/** Has the publisher sign off the dummy with an archive that answers so. @returns also the statements that were sent */
async function signOffAsking(
  answering: Answering,
): Promise<{ readonly ran: Ran; readonly sent: readonly string[]; readonly asked: readonly string[] }> {
  const asked: string[] = [];
  const sent: string[] = [];
  const asking: typeof fetch = (input, init) => {
    const url = new URL(input as string);
    const path = url.pathname + url.search;
    asked.push(path);
    if (path.endsWith('/statements') && init?.method === 'POST') sent.push(path);
    return answering(path, init, () => fetch(input, init));
  };
  const home = stage.homeOf(CAST.publisher);
  const ran = await runAsking(asking, home, ['sign-off', ...onTitle(stage), ...SIGNING]);
  return { ran, sent, asked };
}

/** Answers drafts with a lie in them, all else honestly. */
function drafting(lie: (statement: Statement) => object): Answering {
  return async (path, _init, honest) => {
    const answer = await honest();
    if (!path.endsWith('/drafts')) return answer;
    const { statement } = (await answer.json()) as { readonly statement: Statement };
    return Response.json({ content: Buffer.from(JSON.stringify(sorted(lie(statement)))).toString('base64') });
  };
}

/** Everything comes from another archive that has the same key. */
function everythingFrom({ origin }: Stage): Answering {
  return (path, init) => fetch(`${origin}${path}`, init);
}

/** As RFC 8785 has it, for the plain values of a statement. */
function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .toSorted(([one], [another]) => (one < another ? -1 : 1))
      .map(([key, inner]) => [key, sorted(inner)]),
  );
}

const withSigner = (one: Statement, signer: object): object => ({ ...one, signer: { ...one.signer, ...signer } });
const withPart = (one: Statement, part: object): object => ({ ...one, subject: { ...one.subject, part } });
function withDummy(one: Statement, dummy: object): object {
  if (one.kind !== 'sign-off') throw new Error(`a ${one.kind} was drafted`);
  return { ...one, subject: { ...one.subject, dummy: { ...one.subject.dummy, ...dummy } } };
}
function withdrawalOf(one: Statement): object {
  if (one.kind !== 'sign-off') throw new Error(`a ${one.kind} was drafted`);
  return { part: one.subject.part, dummy: one.subject.dummy.sha256, reason: 'none' };
}

/** The log grows by entries: each a certificate that the printer introduces there. */
async function grow(where: Stage, by: number): Promise<void> {
  const { name: commonName, organisation } = CAST.printer;
  for (let left = by; left > 0; left -= 1) {
    const keys = await makeKeyPair('ecdsa-p256');
    const certificate = await makeCertificate({ person: { commonName, organisation }, keys, from: FROM, until: UNTIL });
    await where.ask(CAST.printer).post('/api/certificates', { der: Buffer.from(certificate).toString('base64') });
  }
}

async function untilRead(where: Stage): Promise<void> {
  const printer = where.ask(CAST.printer);
  const { items } = await printer.get<{ readonly items: readonly { readonly id: string }[] }>(
    `/api/parts/${where.ids.part}/files`,
  );
  for (let tries = 0; tries < 300; tries += 1) {
    const { reading } = await printer.get<{ readonly reading: { readonly state: string } | null }>(
      `/api/files/${items.at(-1)?.id ?? ''}/checking`,
    );
    if (reading?.state === 'done') return;
    await new Promise((later) => setTimeout(later, 100));
  }
  throw new Error('the dummy was not read');
}
