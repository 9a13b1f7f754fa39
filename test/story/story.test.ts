import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CAST, TITLE } from '../../demo/story/cast.ts';
import { playAccounts } from '../../demo/story/chapters/accounts.ts';
import { playDummy } from '../../demo/story/chapters/dummy.ts';
import { playEvidence } from '../../demo/story/chapters/evidence.ts';
import { playKeys } from '../../demo/story/chapters/keys.ts';
import { playRefusedRelease, playRelease } from '../../demo/story/chapters/plates.ts';
import {
  openOf,
  playRevisions,
  playRulings,
  playThirdRevision,
  sendAndHold,
  settledOf,
  type Listed,
} from '../../demo/story/chapters/revisions.ts';
import { execute, verifyInEmptyRoom } from '../../demo/story/empty-room.ts';
import { runInProcess } from '../../demo/story/run-in-process.ts';
import { runAsProcess, serveArchive, type Served } from '../../demo/story/served.ts';
import { onTitle, setStage, SIGNING, type Stage } from '../../demo/story/stage.ts';
import { tinyBooks } from './tiny-books.ts';

/** The whole story: two parties, one title, from the first account to a pack that a stranger verifies. */

/** Run in the test's own process after all, since each process takes a second to start. */
const OFTEN: ReadonlySet<string> = new Set(['key', 'ruling', 'send', 'findings', 'print-copy']);

const root = mkdtempSync(join(tmpdir(), 'witnessleaf-story-'));
let service: Served;
let stage: Stage;
let tiny: Awaited<ReturnType<typeof tinyBooks>>;
let found: readonly Listed[] = [];
let evidence = { pack: '', folder: '' };

interface PartState {
  readonly inForce: string | null;
  readonly releases: readonly object[];
}
const partState = (): Promise<PartState> => stage.ask(CAST.author).get(`/api/parts/${stage.ids.part}/state`);

beforeAll(async () => {
  service = await serveArchive(join(root, 'archive'), join(root, 'service.log'), '0');
  tiny = await tinyBooks(join(root, 'files'));
  stage = setStage({
    ...{ origin: service.origin, firstLink: service.firstLink, cast: CAST, title: TITLE },
    books: tiny,
    homes: join(root, 'people'),
    run: (home, words) => (OFTEN.has(words[0] ?? '') ? runInProcess(home, words) : runAsProcess(home, words)),
    tell: () => undefined,
  });
}, 120_000);

afterAll(async () => {
  await service.stop();
  rmSync(root, { recursive: true, force: true });
});

describe('the story of a title, from the command line', { timeout: 120_000 }, () => {
  it('the first link makes the first account; the other side and the author are invited', async () => {
    await playAccounts(stage);
    const titles = await stage.ask(CAST.author).get<{ readonly items: readonly object[] }>('/api/titles');
    expect(titles.items).toMatchObject([
      {
        name: TITLE,
        standing: 'sight',
        publisher: { name: CAST.publisher.organisation },
        printer: { name: CAST.printer.organisation },
      },
    ]);
  });

  it('both make a key, introduce it, and confirm the other’s by its fingerprint', async () => {
    const read = await playKeys(stage);
    expect((await stage.run(CAST.printer, ['key', 'show', 'own.p12'])).out).toContain(`fingerprint ${read.printer}`);
    const { items } = await stage
      .ask(CAST.author)
      .get<{ readonly items: readonly { readonly state: string; readonly fingerprint: string }[] }>(
        `/api/titles/${stage.ids.title}/certificates`,
      );
    expect(items.map(({ state }) => state)).toEqual(['confirmed', 'confirmed']);
    expect(items.map(({ fingerprint }) => fingerprint).toSorted()).toEqual([read.printer, read.publisher].toSorted());
  });

  it('the printer sends the dummy and both sign it, each seeing in full what they sign', async () => {
    const signed = await playDummy(stage);
    expect(signed.err).toContain('I take this file as the signed dummy of the part');
    expect((await partState()).inForce).not.toBeNull();
  });

  it('the signed copy is sealed, and the copy for paper lies beside it; each is whole or not there', async () => {
    const { folder } = stage.homeOf(CAST.publisher);
    for (const command of ['signed-copy', 'print-copy']) {
      const path = join(folder, `${command}.pdf`);
      expect((await stage.run(CAST.publisher, [command, `${command}.pdf`, ...onTitle(stage)])).out).toBe(`${path}\n`);
      expect(readFileSync(path).subarray(0, 5).toString()).toBe('%PDF-');
    }
    const sealed = readFileSync(join(folder, 'signed-copy.pdf'), 'latin1');
    expect(sealed).toContain('ETSI.CAdES.detached');
    await stage.run(CAST.publisher, ['print-copy', 'none.pdf', ...onTitle(stage), '--file', 'nowhere'], [2]);
    expect(readdirSync(folder).filter((name) => name.startsWith('none'))).toEqual([]);
  });

  it('a clean preparation is passed over in silence; in the next revision both sides altered something', async () => {
    found = await playRevisions(stage);
    expect(found.map(({ weight, where, ruling, says }) => [weight, where, ruling, says])).toEqual([
      ['stop', 'page 2', '', '“at” now reads “on”.'],
      ['stop', 'page 3', '', '“Thistles” now reads “Thistle”.'],
    ]);
  });

  it('the author’s alteration is agreed, the printer’s error is to be put right', async () => {
    const ruled = await playRulings(stage, found);
    expect(ruled.map(({ err }) => [/It is [^.:]+/.exec(err)?.[0], /on the \S+ account/.exec(err)?.[0]])).toEqual([
      ['It is agreed', 'on the publisher’s account'],
      ['It is to be put right', 'on the printer’s account'],
    ]);
  });

  it('what was agreed stays settled in the next revision, and what is new there is not', async () => {
    const listed = await playThirdRevision(stage);
    expect(settledOf(listed).map(({ where }) => where)).toEqual(['page 2']);
    expect(openOf(listed).map(({ where, says }) => [where, says])).toEqual([['page 4', '“home” now reads “hone”.']]);
  });

  it('a plates input in which pages are exchanged is refused, and the open findings are named', async () => {
    const refused = await playRefusedRelease(stage);
    expect(refused.out).toBe('');
    expect(refused.err).toMatch(/release to plates: \d findings? (is|are) open \(f\d/);
    expect((await partState()).releases).toEqual([]);
  });

  it('pages supplied again over that plates input mend it, and the book that comes of it is released', async () => {
    const pages = { path: tiny.lastPages, kind: 'plates-input', remark: 'in order', pages: '3-4' } as const;
    expect(openOf(await sendAndHold(stage, CAST.printer, pages))).toEqual([]);
    const released = await stage.run(CAST.printer, ['release', ...onTitle(stage), ...SIGNING]);
    expect(released.err).toMatch(/4 pages in \d+ bytes, of SHA-256/);
    await stage.run(CAST.publisher, ['release', ...onTitle(stage), ...SIGNING]);
    expect((await partState()).releases).toMatchObject([{ inForce: true }]);
  });

  it('the mended plates input is released by both, with what it rests on', async () => {
    const released = await playRelease(stage);
    expect(released.err).toMatch(/It rests on 2 rulings/);
    expect((await partState()).releases).toMatchObject([
      { inForce: true, onDummyInForce: true },
      { inForce: true, onDummyInForce: true },
    ]);
  });

  it('the accounts say what goes on whose invoice', async () => {
    const { total, lines } = await stage
      .ask(CAST.author)
      .get<{ readonly total: object; readonly lines: readonly object[] }>(`/api/titles/${stage.ids.title}/accounts`);
    expect(total).toEqual({ 'authors-alteration': 1, 'printers-error': 2, shared: 0, 'not-settled': 0 });
    expect(lines).toHaveLength(3);
  });

  it('the evidence pack is verified by openssl and a shell alone, and by the program', async () => {
    evidence = await playEvidence(stage);
    expect(await execute('unzip', ['-tq', evidence.pack])).toMatchObject({ exit: 0 });
    const lists = (await execute('find', [evidence.folder, '-path', '*/files/*.json'])).out.trim().split('\n');
    expect(lists.map((path) => (JSON.parse(readFileSync(path, 'utf8')) as { pages: [] }).pages.length)).toEqual([4]);
  });

  it('the evidence on one disputed page is pulled by its hashes alone, and holds', async () => {
    await stage.run(CAST.printer, ['evidence', 'page.zip', ...onTitle(stage), '--page', '2', '--hashes-only']);
    const { out } = await runInProcess(stage.homeOf(CAST.printer), ['verify', 'page.zip']);
    expect(out).toMatch(/all \d+ checks hold/);
    const members = (await execute('unzip', ['-Z1', join(stage.homeOf(CAST.printer).folder, 'page.zip')])).out;
    expect(members).not.toMatch(/files\/.*\.pdf/);
    const refused = await stage.run(CAST.printer, ['evidence', 'no.zip', ...onTitle(stage), '--page', '0'], [2]);
    expect(refused.err).toContain('--page: a page of the dummy, from 1 expected, 0 found');
  });

  it('a key that is lost gives way to a new one, which the other side confirms before it revokes the old', async () => {
    const { publisher, printer } = CAST;
    const listed = async (): Promise<readonly string[]> =>
      (await stage.run(printer, ['key', 'list', ...onTitle(stage)])).out
        .trim()
        .split('\n')
        .filter((line) => line.endsWith(`${publisher.name}, ${publisher.organisation}`));
    const [old = ''] = (await listed()).map((line) => line.split('\t')[0] ?? '');
    const whose = ['--name', publisher.name, '--organisation', publisher.organisation];
    await stage.run(publisher, ['key', 'new', 'second.p12', ...whose]);
    const fresh = (await stage.run(publisher, ['key', 'introduce', 'second.p12'])).out.trim();
    const revoke = ['key', 'revoke', old, ...onTitle(stage), '--reason', 'lost with a bag', '--key', 'second.p12'];
    const early = await stage.run(publisher, [...revoke, '--yes'], [2]);
    expect(early.err).toContain('a certificate that the other side has confirmed');
    await stage.run(printer, ['key', 'confirm', fresh, ...onTitle(stage), ...SIGNING]);
    await stage.run(publisher, [...revoke, '--yes']);
    expect((await listed()).map((line) => line.split('\t').slice(0, 2))).toEqual([
      [old, 'revoked'],
      [fresh, 'confirmed'],
    ]);
    const late = await stage.run(publisher, ['release', ...onTitle(stage), ...SIGNING], [2]);
    expect(late.err).toContain('a certificate that the other side has confirmed');
  });

  it('one changed byte of the signed dummy in the pack does not pass', async () => {
    const { sha256 } = await stage
      .ask(CAST.author)
      .get<{ readonly sha256: string }>(`/api/files/${(await partState()).inForce ?? ''}`);
    const [path = ''] = (await execute('find', [evidence.folder, '-name', `${sha256}*`])).out.trim().split('\n');
    const bytes = readFileSync(path);
    bytes[bytes.length >> 1]! ^= 1;
    writeFileSync(path, bytes);
    const checked = await verifyInEmptyRoom(evidence.folder, join(root, 'another-room'));
    expect(checked).toMatchObject({ exit: 1 });
    expect(checked.out + checked.err).toContain(sha256);
  });
});
