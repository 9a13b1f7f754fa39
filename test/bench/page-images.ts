/**
 * `npm run bench:pages`: twenty people look at the pages of books while four files are checked. Each opens a spread at
 * some place of the dummy or of an earlier file, as the pages ask for it (two pictures of 1280 pixels), looks at it for
 * about a second and opens another; nothing is kept by a browser. The books came in some time before, so that their pages
 * were drawn ahead. Measured from asking to the last byte, until the last of the four is checked. `--people N`, `--files N`.
 */
import { Agent, request } from 'node:http';
import { setTimeout as after } from 'node:timers/promises';
import { parseArgs } from 'node:util';
import { browserAt } from '../service/caller.ts';
import { asked } from '../service/crash/two-sides.ts';
import { benchBook, finalWithFault, freshCopy, megabytes } from './bench-book.ts';
import { PASSWORD, putFile, serveForBench } from './served.ts';
import { tellMachine, tellTargets } from './telling.ts';

const { values } = parseArgs({
  options: { people: { type: 'string', default: '20' }, files: { type: 'string', default: '4' } },
});
const people = Number(values.people);
const files = Number(values.files);
const MOST_MS = 150;
const THINK_MS = 1000;
const WIDTH = 1280;
/** Connections of one browser to one service. @source common practice, no source */
const CONNECTIONS = 6;

/** One picture, read to its end. @returns milliseconds */
function pictureMs(url: string, cookie: string, agent: Agent): Promise<number> {
  const started = performance.now();
  return new Promise((done, fail) => {
    const asking = request(url, { agent, headers: { Cookie: cookie, Accept: 'image/avif,image/webp,*/*' } });
    asking.on('error', fail).on('response', (answer) => {
      if (answer.statusCode !== 200) fail(new Error(`answered ${answer.statusCode}`));
      answer.resume().on('end', () => done(performance.now() - started));
    });
    asking.end();
  });
}

/** Opens spreads until it is told to stop; the same places in each run. */
async function look(seed: number, books: readonly (readonly string[])[], cookie: string, stop: AbortSignal) {
  const agent = new Agent({ keepAlive: true, maxSockets: CONNECTIONS });
  const taken: number[] = [];
  let chance = seed;
  const next = (): number => (chance = (chance * 16807) % 2147483647) / 2147483647;
  for (let spread = 0; spread < 3; spread++) next();
  await after(next() * THINK_MS);
  while (!stop.aborted) {
    const book = books[Math.floor(next() * books.length)]!;
    const left = 2 * Math.floor((next() * book.length) / 2);
    const pictures = book.slice(left, left + 2);
    taken.push(...(await Promise.all(pictures.map((picture) => pictureMs(picture, cookie, agent)))));
    await after(THINK_MS * (0.5 + next()));
  }
  agent.destroy();
  return taken;
}

const { dummy, final } = await benchBook();
const faulty = await finalWithFault();
tellMachine();
const served = await serveForBench({ WITNESSLEAF_SIGN_INS_PER_MINUTE: '10000' });
const { origin, sender } = served;
try {
  const picturesOf = async (file: string): Promise<readonly string[]> => {
    const path = `/api/files/${file}/pages?most=200`;
    const { items } = await asked<{ items: { picture: string }[] }>(sender.get(path), 200);
    return items.map(({ picture }) => `${origin}${picture}&width=${WIDTH}`);
  };
  const { part } = await served.newPart();
  const sent = [
    await putFile(served, part, 'dummy', freshCopy(dummy, 0)),
    await putFile(served, part, 'revision', freshCopy(final, 1)),
  ];
  await served.quiet();
  await served.idle();
  const books = await Promise.all(sent.map(({ id }) => picturesOf(id)));
  const cookies: string[] = [];
  for (let n = 0; n < people; n++) {
    const browser = browserAt(origin);
    await asked(browser.send('POST', '/api/sessions', { signInName: 'ada', password: PASSWORD }), 201);
    cookies.push(browser.cookie);
  }
  for (let n = 0; n < files; n++) await putFile(served, part, 'revision', freshCopy(faulty, 2 + n));
  const started = performance.now();
  const before = served.cpuS().own;
  const stop = new AbortController();
  const looking = cookies.map((cookie, n) => look(n + 1, books, cookie, stop.signal));
  await served.quiet();
  stop.abort();
  const all = (await Promise.all(looking)).flat().sort((one, other) => one - other);
  const at = (share: number): number => all[Math.min(all.length - 1, Math.floor(all.length * share))]!;
  const seconds = (performance.now() - started) / 1000;
  console.log(
    `${people} people, ${files} files of ${megabytes(faulty)} checked in ${seconds.toFixed(1)} s; ${all.length} pictures: ` +
      `${(((served.cpuS().own - before) / all.length) * 1000).toFixed(1)} ms of processor time of the service for each; ` +
      `median ${at(0.5).toFixed(0)} ms, 90 % ${at(0.9).toFixed(0)} ms, longest ${at(1).toFixed(0)} ms`,
  );
  const reached = tellTargets([
    { name: 'a picture of a page, 95 of 100', value: at(0.95), most: MOST_MS, unit: ' ms' },
  ]);
  process.exitCode = reached ? 0 : 1;
} finally {
  await served.end();
}
