import { createReadStream } from 'node:fs';
import { join } from 'node:path';
import { afterAll } from 'vitest';
import {
  archivePaths,
  archiveWork,
  openActivity,
  openArchive,
  receiveFile,
  startPageWorkers,
  startWorkers,
} from '../../../src/archive/index.ts';
import type {
  Archive,
  CheckingOrder,
  News,
  PageRange,
  Part,
  Person,
  SentFile,
  Workers,
} from '../../../src/archive/index.ts';
import { DEFAULT_LIMITS, DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import type { SaidFolding } from '../../../src/model/index.ts';
import { formatReport, keepExhibits } from '../../../src/reporting/index.ts';
import { scratchFolder } from '../scratch.ts';
import { writeBook } from '../small-book.ts';
import type { SmallPage } from '../small-book.ts';
import { AT } from '../two-parties.ts';
import type { TwoParties } from '../two-parties.ts';

/** How a small book is sent. */
export interface Sending {
  readonly kind?: SentFile['kind'];
  readonly replaces?: readonly PageRange[];
  readonly folding?: SaidFolding;
  readonly remark?: string;
  readonly name?: string;
  readonly by?: Person;
  /** Of the part itself where nothing is said. */
  readonly part?: Part;
}

/** An archive with a title of two parties, and somebody who sends files into it. */
export interface FileDesk {
  readonly folder: string;
  readonly archive: Archive;
  readonly order: CheckingOrder;
  readonly news: readonly News[];
  readonly editor: Person;
  readonly foreman: Person;
  readonly part: Part;
  readonly sendPages: (pages: readonly SmallPage[], how?: Sending) => Promise<SentFile>;
  readonly sendFile: (path: string, how?: Sending) => Promise<SentFile>;
  /** Works until nothing is open. */
  readonly workOff: () => Promise<void>;
  /** Works until there is news that is enough, and stops in the middle. */
  readonly workUntil: (isEnough: (news: News) => boolean) => Promise<void>;
}

const pool = startPageWorkers(1, DEFAULT_LIMITS);
afterAll(() => pool.close());

/** A title with whoever sends files into it. */
type Ground = Pick<FileDesk, 'folder' | 'archive' | 'editor' | 'foreman' | 'part'>;

async function ownGround(): Promise<Ground> {
  const folder = scratchFolder();
  const archive = await openArchive(folder, AT);
  const { catalogue } = archive;
  const publisher = await catalogue.parties.add({ name: 'Blattwerk', at: AT });
  const printer = await catalogue.parties.add({ name: 'Druckhaus Süd', at: AT });
  const person = (partyId: string, name: string, byPersonId: string | null): Promise<Person> =>
    catalogue.people.add({ partyId, name, rights: ['look', 'send-files', 'sign'], byPersonId, at: AT });
  const editor = await person(publisher.id, 'Ada', null);
  const foreman = await person(printer.id, 'Ben', editor.id);
  const [publisherId, printerId, byPersonId] = [publisher.id, printer.id, editor.id];
  const title = await catalogue.titles.add({ name: 'Leaves', publisherId, printerId, byPersonId, at: AT });
  const part = await catalogue.titles.addPart({ titleId: title.id, kind: 'book-block', at: AT });
  return { folder, archive, editor, foreman, part };
}

async function groundOf({ folder, archive, publisher, printer, part }: TwoParties): Promise<Ground> {
  const { people } = archive.catalogue;
  const [editor, foreman] = [await people.get(publisher.actor.personId), await people.get(printer.actor.personId)];
  return { folder, archive, editor: editor!, foreman: foreman!, part };
}

/** Opens a desk in an archive with a title in it, or in the one given; its clock goes on by a millisecond each time. */
export async function openFileDesk(more: Partial<CheckingOrder> = {}, title?: TwoParties): Promise<FileDesk> {
  const { folder, archive, editor, foreman, part } = title === undefined ? await ownGround() : await groundOf(title);
  const { catalogue, blobs } = archive;
  afterAll(() => archive.close());
  let clock = AT;
  const now = (): number => (clock += 1);

  const activity = openActivity({ now, keep: 1000 });
  const news: News[] = [];
  activity.listen((one) => news.push(one));
  const order: CheckingOrder = {
    pool,
    limits: DEFAULT_LIMITS,
    tolerances: DEFAULT_TOLERANCES,
    factsFolder: archivePaths(folder).facts,
    now,
    activity,
    formatReport,
    drawReport: (asked) => keepExhibits({ archive, pairsAtOnce: 1, now }, asked),
    ...more,
  };

  const sendFile = async (path: string, how: Sending = {}): Promise<SentFile> => {
    const { sha256 } = await blobs.put(createReadStream(path));
    const { kind = 'revision', replaces = null, folding = null, remark = '', by = editor, name = 'book.pdf' } = how;
    const { personId, partyId } = { personId: by.id, partyId: by.partyId };
    const given = { partId: (how.part ?? part).id, kind, name, remark, replaces, folding, sha256 };
    return receiveFile(archive, { personId, partyId }, given, now());
  };
  const troubles: unknown[] = [];
  const start = (): Promise<Workers> =>
    startWorkers({
      jobs: catalogue.jobs,
      owner: 'desk',
      workers: 2,
      work: archiveWork(archive, order),
      now,
      leaseMs: 60_000,
      idleMs: 5,
      patienceMs: () => 1,
      onTrouble: (error) => troubles.push(error),
    });
  let written = 0;
  return {
    ...{ folder, archive, order, news, editor, foreman, part, sendFile },
    sendPages: async (pages, how) => sendFile(await writeBook(join(folder, `${(written += 1)}.pdf`), pages), how),
    async workOff() {
      const workers = await start();
      while ((await catalogue.jobs.open()).length > 0) await new Promise((later) => setTimeout(later, 5));
      await workers.close();
      if (troubles.length > 0) throw troubles[0];
    },
    async workUntil(isEnough) {
      const enough = new Promise<void>((done) => {
        activity.listen((one) => isEnough(one) && done());
      });
      const workers = await start();
      await enough;
      await workers.close();
    },
  };
}
