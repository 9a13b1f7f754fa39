/**
 * `npm run demo`: makes the demonstration book and its revisions with planted faults, holds one against the dummy by
 * hand, then plays the whole story with a service of its own, and leaves it running where somebody sits at a terminal
 * (`-- --once`: not). Exit status 1 where the story takes another turn than it must.
 */
import { mkdirSync, rmSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';
import { ALTERED_PAGES, makeRevision, WHOLE } from './book/make.ts';
import type { MadeFile } from './book/make.ts';
import { holdByHand } from './held-by-hand.ts';
import { BOOK_NAMES, makeBook, type BookName } from './story/books.ts';
import { CAST, TITLE } from './story/cast.ts';
import { CHAPTERS } from './story/chapters.ts';
import { freePort, runAsProcess, serveArchive, type Served } from './story/served.ts';
import { setStage } from './story/stage.ts';

const PROJECT = join(import.meta.dirname, '..');
const FOLDER = join(PROJECT, '.out', 'demo');
const REPORTS = join(FOLDER, 'reports');
const isLeftRunning = process.stdout.isTTY && (process.env.CI ?? '') === '' && !process.argv.includes('--once');
const begun = performance.now();
const shown = (path: string): string => relative(PROJECT, path);

let served: Served | null = null;
try {
  // Every run is a new archive and a new memory of it; only photographs prepared for print are kept.
  for (const name of ['archive', 'people', 'reports']) rmSync(join(FOLDER, name), { recursive: true, force: true });
  mkdirSync(REPORTS, { recursive: true });
  const made = await makeFiles();
  await holdOneByHand(made.dummy);
  served = await serveArchive(join(FOLDER, 'archive'), join(FOLDER, 'service.log'), await freePort());
  await playStory(served, made);
  tellWhereToLook(served);
  if (isLeftRunning) await served.ended;
} catch (error) {
  console.error(`demo: ${error instanceof Error ? error.message : String(error)}`);
  process.exitCode = 1;
} finally {
  await served?.stop();
}

async function makeFiles(): Promise<Record<BookName, MadeFile>> {
  console.log('“A Winter’s Round”, a photo book of 32 pages: the dummy that was signed, and what came later.');
  console.log('The first time, its photographs are prepared for print, which takes a minute.\n');
  const made: Partial<Record<BookName, MadeFile>> = {};
  for (const name of BOOK_NAMES) made[name] = tellMade(await makeBook(name, FOLDER, WHOLE));
  return made as Record<BookName, MadeFile>;
}

function tellMade(made: MadeFile): MadeFile {
  console.log(`Made: ${shown(made.path)}, ${(statSync(made.path).size / 1e6).toFixed(1)} MB`);
  return made;
}

/** One comparison without an archive, with every report there is. */
async function holdOneByHand(dummy: MadeFile): Promise<void> {
  heading('By hand: one revision held against the dummy');
  const name = 'forgotten-placeholder';
  const revision = tellMade(await makeRevision(FOLDER, name));
  tellPlanted(revision);
  console.log(`\n${await holdByHand({ dummy, revision, reports: REPORTS, name })}`);
}

async function playStory({ origin, firstLink }: Served, made: Record<BookName, MadeFile>): Promise<void> {
  const path = (name: BookName): string => made[name].path;
  const stage = setStage({
    ...{ origin, firstLink, cast: CAST, title: TITLE },
    books: {
      ...{ dummy: path('dummy'), prepared: path('prepared'), corrected: path('corrected'), slipped: path('slipped') },
      ...{ disordered: path('disordered'), mended: path('mended'), authorsPages: ALTERED_PAGES },
    },
    homes: join(FOLDER, 'people'),
    run: runAsProcess,
    tell: (sentence) => console.log(sentence),
  });
  for (const chapter of CHAPTERS) {
    heading(chapter.heading);
    for (const name of chapter.sends) tellPlanted(made[name]);
    await chapter.play(stage);
  }
}

function tellPlanted({ path, planted, agreed }: MadeFile): void {
  const lines = [...planted, ...agreed.map((line) => `${line} (agreed before)`)];
  if (lines.length > 0) console.log([`Planted in ${shown(path)}:`, ...lines.map((line) => `  ${line}`), ''].join('\n'));
}

function tellWhereToLook({ origin }: Served): void {
  heading('Where to look');
  console.log(`A report to look at: ${shown(join(REPORTS, 'forgotten-placeholder', 'index.html'))}`);
  console.log('Compare any two of the books yourself, for example:');
  console.log(
    `  npm run -s witnessleaf -- compare ${shown(join(FOLDER, 'dummy.pdf'))} ${shown(join(FOLDER, 'final.pdf'))}`,
  );
  console.log(`\nAll of it took ${Math.round((performance.now() - begun) / 1000)} s.`);
  if (!isLeftRunning) return;
  console.log(`\nThe archive of the story is served at ${origin}; Ctrl-C ends it. Sign in as one of these:`);
  for (const { name, organisation, signInName, password } of [CAST.publisher, CAST.printer, CAST.author]) {
    console.log(`  ${signInName.padEnd(6)} ${`“${password}”`.padEnd(28)} ${name}, ${organisation}`);
  }
}

function heading(text: string): void {
  console.log(`\n${text}\n${'─'.repeat(text.length)}`);
}
