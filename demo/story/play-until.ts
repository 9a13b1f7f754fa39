import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { openArchive } from '../../src/archive/index.ts';
import { openJournal, readConfiguration, startService } from '../../src/service/index.ts';
import { SHORT } from '../book/make.ts';
import { makeBooks } from './books.ts';
import { CAST, TITLE, type Cast } from './cast.ts';
import { chaptersUntil, type Moment } from './chapters.ts';
import { runInProcess } from './run-in-process.ts';
import { setStage, type StoryBooks } from './stage.ts';

/** Where a story was left: everything that a test or a person needs to go on from there. */
export interface Played {
  /** Of the archive; no service runs on it. */
  readonly archive: string;
  /** People with what they sign in with. */
  readonly cast: Cast;
  readonly title: { readonly id: string; readonly name: string };
  readonly part: string;
  /** The key file of each side, in PKCS#12, under that person's passphrase. */
  readonly keys: { readonly publisher: string; readonly printer: string };
  /** The evidence pack, where the story came so far. */
  readonly pack: string | null;
}

/** What is played with. */
export interface PlayingOrder {
  /** Under it lie the archive, which is made anew, the machines of the people and the files. */
  readonly folder: string;
  /** Seven pages of “A Winter's Round” where nothing is said. */
  readonly books?: StoryBooks;
  readonly tell?: (sentence: string) => void;
}

/**
 * Plays the story up to a moment, in this process and as quickly as it goes: a real service, asked over HTTP by the real
 * commands, in a folder of its own. Afterwards nothing runs; start a service on `archive` to look at it.
 *
 * @throws {Error} the story took another turn; what was said is in the message
 */
export async function playUntil(moment: Moment, order: PlayingOrder): Promise<Played> {
  const { folder, tell = () => undefined } = order;
  const [archiveFolder, homes] = [join(folder, 'archive'), join(folder, 'people')];
  for (const path of [archiveFolder, homes]) await rm(path, { recursive: true, force: true });
  const chapters = chaptersUntil(moment);
  const needed = new Set(chapters.flatMap(({ sends }) => sends));
  const books = order.books ?? (await makeBooks(needed, join(folder, 'files'), SHORT));
  const archive = await openArchive(archiveFolder, Date.now());
  const service = await startService({
    archive,
    configuration: readConfiguration({
      WITNESSLEAF_FOLDER: archiveFolder,
      WITNESSLEAF_PORT: '0',
      WITNESSLEAF_STOP_SECONDS: '5',
    }),
    journal: openJournal('silent', { write: () => undefined }),
    now: () => Date.now(),
    // Nobody tries passwords here; the archive keeps with each how dear it was.
    passwordCost: { memoryKib: 8, passes: 1 },
  });
  const { origin, firstLink } = service;
  const stage = setStage({
    ...{ origin, firstLink: firstLink ?? '', cast: CAST, title: TITLE, books, homes, tell },
    run: runInProcess,
  });
  try {
    for (const { play } of chapters) await play(stage);
  } finally {
    await service.stop();
    archive.close();
  }
  const keyOf = (side: 'publisher' | 'printer'): string => join(stage.homeOf(CAST[side]).folder, 'own.p12');
  return {
    archive: archiveFolder,
    cast: CAST,
    title: { id: stage.ids.title, name: TITLE },
    part: stage.ids.part,
    keys: { publisher: keyOf('publisher'), printer: keyOf('printer') },
    pack: moment === 'verified' ? join(stage.homeOf(CAST.publisher).folder, 'evidence.zip') : null,
  };
}
