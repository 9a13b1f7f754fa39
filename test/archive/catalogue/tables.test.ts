import { describe, expect, it } from 'vitest';
import type { SentFile } from '../../../src/archive/index.ts';
import { bookInCatalogue, hashLike, rootLike, sendFile } from './filled-catalogue.ts';

describe('people', () => {
  it('have the rights that were given last, and every change is on record', async () => {
    const { catalogue, editor, foreman } = await bookInCatalogue();
    await catalogue.people.setRights({ personId: foreman.id, rights: ['look'], byPersonId: editor.id, at: 10 });
    await catalogue.people.setRights({ personId: foreman.id, rights: [], byPersonId: editor.id, at: 11 });
    await catalogue.people.setRights({ personId: foreman.id, rights: ['look', 'sign'], byPersonId: editor.id, at: 12 });
    expect(await catalogue.people.get(foreman.id)).toEqual({ ...foreman, rights: ['look', 'sign'] });
    const changes = (await catalogue.people.rightChanges(foreman.id)).slice(3);
    expect(changes.map(({ may, change, atMs }) => `${atMs} ${change} ${may}`)).toEqual([
      '10 taken sign',
      '10 taken send-files',
      '11 taken look',
      '12 given look',
      '12 given sign',
    ]);
    expect(changes.every(({ byPersonId }) => byPersonId === editor.id)).toBe(true);
  });

  it('who may not look may not act', async () => {
    const { catalogue, publisher } = await bookInCatalogue();
    const adding = catalogue.people.add({
      partyId: publisher.id,
      name: 'C',
      rights: ['sign'],
      byPersonId: null,
      at: 9,
    });
    await expect(adding).rejects.toThrow('right_change: who may not look may not act');
    expect((await catalogue.people.ofParty(publisher.id)).map(({ name }) => name)).toEqual(['Ada']);
  });
});

describe('titles', () => {
  it('bear their last name, and keep the former ones', async () => {
    const { catalogue, title, editor } = await bookInCatalogue();
    await catalogue.titles.rename({ titleId: title.id, name: 'Leaves and Trees', byPersonId: editor.id, at: 9 });
    expect(await catalogue.titles.get(title.id)).toEqual({ ...title, name: 'Leaves and Trees' });
    expect(await catalogue.titles.names(title.id)).toEqual(['Leaves', 'Leaves and Trees']);
  });

  it('are seen by their two parties and by whoever has sight at that time', async () => {
    const { catalogue, title, editor, publisher, printer } = await bookInCatalogue();
    const studio = await catalogue.parties.add({ name: 'Studio', at: 9 });
    const order = { titleId: title.id, partyId: studio.id, byPersonId: editor.id };
    const seen = async () => [
      await catalogue.sight.standing(title.id, studio.id),
      (await catalogue.titles.seenBy(studio.id, { most: 9 })).length,
    ];
    expect(await seen()).toEqual([null, 0]);
    await catalogue.sight.give({ ...order, at: 10 });
    expect(await seen()).toEqual(['sight', 1]);
    await catalogue.sight.take({ ...order, at: 11 });
    expect(await seen()).toEqual([null, 0]);
    expect((await catalogue.sight.changes(title.id)).map(({ change, atMs }) => [change, atMs])).toEqual([
      ['given', 10],
      ['taken', 11],
    ]);
    expect(await catalogue.sight.parties(title.id)).toEqual([
      { partyId: publisher.id, standing: 'publisher' },
      { partyId: printer.id, standing: 'printer' },
    ]);
    await expect(catalogue.sight.take({ ...order, at: 12 })).rejects.toThrow('was not given sight');
    const again = catalogue.sight.give({ ...order, partyId: printer.id, at: 12 });
    await expect(again).rejects.toThrow('sees the title already');
  });

  it('come a page at a time, the newest first', async () => {
    const { catalogue, title, publisher, printer, editor } = await bookInCatalogue();
    const add = (name: string) =>
      catalogue.titles.add({ name, publisherId: publisher.id, printerId: printer.id, byPersonId: editor.id, at: 9 });
    const [second, third] = [await add('Second'), await add('Third')];
    expect(await catalogue.titles.seenBy(printer.id, { most: 2 })).toEqual([third, second]);
    expect(await catalogue.titles.seenBy(printer.id, { most: 2, before: second.id })).toEqual([title]);
  });

  it('have two jackets only where they are told apart', async () => {
    const { catalogue, title, part } = await bookInCatalogue();
    const jacket = await catalogue.titles.addPart({ titleId: title.id, kind: 'jacket', at: 9 });
    const other = await catalogue.titles.addPart({ titleId: title.id, kind: 'jacket', label: 'French', at: 9 });
    expect(await catalogue.titles.parts(title.id)).toEqual([part, jacket, other]);
    const third = catalogue.titles.addPart({ titleId: title.id, kind: 'jacket', at: 9 });
    await expect(third).rejects.toThrow(/^UNIQUE/);
  });
});

describe('files', () => {
  it('of a part are counted, revisions among themselves, and come back as they were sent', async () => {
    const book = await bookInCatalogue();
    const { catalogue, part, dummy } = book;
    const first = await sendFile(book, 'revision', hashLike('a1'));
    const plates = await sendFile(book, 'plates-input', hashLike('a2'));
    const pages = [
      { first: 12, last: 13 },
      { first: 40, last: 40 },
    ];
    const second = await sendFile(book, 'revision', hashLike('a1'), { fileId: first.id, pages });
    const all = [dummy, first, plates, second];
    expect(await catalogue.files.ofPart(part.id)).toEqual(all);
    const numbers = all.map(({ position, revisionNumber }: SentFile) => [position, revisionNumber]);
    expect(numbers).toEqual([
      [1, null],
      [2, 1],
      [3, null],
      [4, 2],
    ]);
    expect(await catalogue.files.withBlob(hashLike('a1'))).toEqual([first, second]);
  });

  it('do not replace a page twice, and then nothing of the file is kept', async () => {
    const book = await bookInCatalogue();
    const pages = [
      { first: 12, last: 13 },
      { first: 13, last: 14 },
    ];
    const sending = sendFile(book, 'revision', hashLike('a1'), { fileId: book.dummy.id, pages });
    await expect(sending).rejects.toThrow('replaced_pages: a page is replaced twice');
    expect(await book.catalogue.files.ofPart(book.part.id)).toEqual([book.dummy]);
  });
});

describe('pages', () => {
  it('of a blob are known once it was read, the torn one with its cause', async () => {
    const { catalogue, dummy } = await bookInCatalogue();
    const pages = [
      { pageNumber: 1, contentHash: hashLike('c1'), widthMm: 210, heightMm: 280.5 },
      { pageNumber: 2, unreadable: 'no page object' },
    ];
    expect(await catalogue.pages.ofBlob(dummy.sha256)).toBe(null);
    for (const _twice of [1, 2]) await catalogue.pages.add({ sha256: dummy.sha256, pages, at: 9 });
    expect(await catalogue.pages.ofBlob(dummy.sha256)).toEqual(pages);
    const found = [{ sha256: dummy.sha256, pageNumber: 1 }];
    expect(await catalogue.pages.withContent(hashLike('c1'))).toEqual(found);
  });

  it('keep the first result under its terms', async () => {
    const { catalogue } = await bookInCatalogue();
    const key = { contentHash: hashLike('c1'), kind: 'facts', terms: hashLike('e1') };
    expect(await catalogue.pages.fact(key)).toBe(null);
    await catalogue.pages.keepFact({ ...key, bytes: rootLike(1) });
    await catalogue.pages.keepFact({ ...key, bytes: rootLike(2) });
    expect(await catalogue.pages.fact(key)).toEqual(rootLike(1));
    expect(await catalogue.pages.fact({ ...key, terms: hashLike('e2') })).toBe(null);
  });
});

describe('findings', () => {
  it('are the same in every file in which they appear, whichever report was made first', async () => {
    const book = await bookInCatalogue();
    const { catalogue, part, dummy } = book;
    const files = [await sendFile(book, 'revision', hashLike('a1')), await sendFile(book, 'revision', hashLike('a2'))];
    const told = {
      partId: part.id,
      identity: hashLike('f1'),
      kind: 'page-missing',
      dummyPage: 4,
      weight: 'stop',
    } as const;
    const seen: string[] = [];
    for (const file of files.toReversed()) {
      const terms = {
        partId: part.id,
        dummyId: dummy.id,
        fileId: file.id,
        terms: hashLike('e1'),
        verdict: 'differs',
      } as const;
      const report = await catalogue.reports.add({ ...terms, sha256: dummy.sha256, at: 9 });
      expect(await catalogue.reports.add({ ...terms, sha256: dummy.sha256, at: 10 })).toEqual(report);
      const mark = `f${file.position}`;
      const finding = await catalogue.findings.note({ ...told, reportId: report.id, mark, at: 9 });
      await catalogue.findings.note({ ...told, reportId: report.id, mark, at: 10 });
      expect(await catalogue.findings.inReport(report.id)).toEqual([{ finding, mark, weight: 'stop' }]);
      seen.push(finding.id);
    }
    expect(new Set(seen).size).toBe(1);
    expect(await catalogue.findings.filesWith(seen[0]!)).toEqual(files.map(({ id }) => id));
  });
});

describe('time-stamps', () => {
  it('stay pending until the authority answers, and a token stays', async () => {
    const { timeStamps, log } = (await bookInCatalogue()).catalogue;
    await log.addCheckpoint({ size: 0, rootHash: rootLike(0), note: 'signed', atMs: 9 });
    const which = { size: 0, authority: 'https://stamp.example' };
    for (const at of [10, 11]) await timeStamps.ask({ ...which, at });
    await timeStamps.putOff({ ...which, cause: 'no answer', nextTryMs: 50 });
    expect(await timeStamps.due({ at: 49, most: 9 })).toEqual([]);
    const asked = { ...which, tries: 1, lastCause: 'no answer', askedMs: 10 };
    expect(await timeStamps.due({ at: 50, most: 9 })).toEqual([{ ...asked, state: 'pending', nextTryMs: 50 }]);
    expect(await timeStamps.hold({ ...which, token: rootLike(1), at: 51 })).toBe(true);
    expect(await timeStamps.hold({ ...which, token: rootLike(2), at: 52 })).toBe(false);
    expect(await timeStamps.ofHead(0)).toEqual([{ ...asked, state: 'held', token: rootLike(1), heldMs: 51 }]);
  });
});

describe('accounts and entrances', () => {
  it('find a name in small or large letters, and count every failure', async () => {
    const { catalogue, editor } = await bookInCatalogue();
    const { accounts } = catalogue;
    await accounts.add({ personId: editor.id, signInName: 'Ada', passwordHash: '$argon2id$1', at: 9 });
    const counts = await Promise.all([1, 2, 3].map(() => accounts.failed(editor.id)));
    expect(counts).toEqual([1, 2, 3]);
    await accounts.lock(editor.id, 99);
    expect(await accounts.byName('aDA')).toMatchObject({ signInName: 'Ada', failedTries: 3, lockedUntilMs: 99 });
    await accounts.succeeded(editor.id);
    await accounts.setPassword(editor.id, '$argon2id$2');
    expect(await accounts.ofPerson(editor.id)).toEqual({
      personId: editor.id,
      signInName: 'Ada',
      passwordHash: '$argon2id$2',
      failedTries: 0,
      lockedUntilMs: null,
    });
  });

  it('let nobody in after their time, after their end, or twice by one invitation', async () => {
    const { catalogue, editor } = await bookInCatalogue();
    const { entrances } = catalogue;
    const session = {
      tokenHash: hashLike('71'),
      kind: 'session',
      personId: editor.id,
      label: '',
      madeMs: 10,
      untilMs: 20,
    } as const;
    const token = { ...session, tokenHash: hashLike('72'), kind: 'token', untilMs: null } as const;
    const invitation = { ...session, tokenHash: hashLike('73'), kind: 'invitation', personId: null } as const;
    for (const one of [session, token, invitation]) await entrances.add(one);
    expect(await entrances.open(session.tokenHash, 19)).toEqual(session);
    expect(await entrances.open(session.tokenHash, 20)).toBe(null);
    expect(await entrances.ofPerson(editor.id, 19)).toEqual([session, token]);
    expect(await Promise.all([1, 2].map(() => entrances.end(invitation.tokenHash, 15)))).toEqual([true, false]);
    expect(await entrances.endSessions(editor.id, 15)).toBe(1);
    expect(await entrances.open(session.tokenHash, 16)).toBe(null);
    expect(await entrances.open(token.tokenHash, 1e15)).toEqual(token);
  });
});
