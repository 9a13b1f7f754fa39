import { readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as after } from 'node:timers/promises';
import { readEvents } from '../service/event-reader.ts';
import { freshCopy } from './bench-book.ts';
import { putFile, serveForBench } from './served.ts';
import type { Served } from './served.ts';

/** What a line of a gigabit brings in a second, in bytes. */
const LINE = 100e6;
/** A worker rests after 20 s. */
const PAUSE_MS = 25_000;

/** Seconds from the last byte of a file to its report, by a running service. */
export interface ServedRevision {
  /** Of the file before, of which nothing is known; its dummy was read some time before. */
  readonly cold: number;
  /** Of the revision, each time as if it came for the first time. */
  readonly revision: readonly number[];
  /** Findings in each report of the revision, by their kinds and pages, as text; all alike. */
  readonly findings: ReadonlySet<string>;
}

/** Sends a dummy, a final and its revision several times, over a line of a gigabit, with pauses between them. */
export async function servedRevision(
  files: Readonly<Record<'dummy' | 'final' | 'revision', string>>,
  runs: number,
): Promise<ServedRevision> {
  const served = await serveForBench();
  try {
    const { title, part } = await served.newPart();
    await putFile(served, part, 'dummy', freshCopy(files.dummy, 0));
    await served.quiet();
    await served.idle();
    const cold = (await sendAndWait(served, title, part, files.final, 0)).seconds;
    const revision: number[] = [];
    const findings = new Set<string>();
    for (let run = 1; run <= runs; run++) {
      await served.quiet();
      await served.idle();
      await after(PAUSE_MS);
      const known = new Set(drawnFacts(served));
      const { seconds, file } = await sendAndWait(served, title, part, files.revision, run);
      revision.push(seconds);
      findings.add(await findingsOf(served, file));
      await served.quiet();
      await served.idle();
      // what is known of its changed pages goes, so that the next run finds them changed as well
      for (const name of drawnFacts(served)) if (!known.has(name)) rmSync(join(served.folder, 'facts', name));
    }
    return { cold, revision, findings };
  } finally {
    await served.end();
  }
}

/** Of what is kept, all that came of drawing pages. */
function drawnFacts(served: Served): readonly string[] {
  return readdirSync(join(served.folder, 'facts')).filter((name) => !name.startsWith('described-'));
}

async function sendAndWait(
  served: Served,
  title: string,
  part: string,
  path: string,
  run: number,
): Promise<{ readonly seconds: number; readonly file: string }> {
  const headers = { Cookie: served.sender.cookie, Accept: 'text/event-stream' };
  let comparedMs = 0;
  const compared = readEvents(`${served.origin}/api/titles/${title}/events`, headers, ({ event }) => {
    if (event === 'compared') comparedMs = Date.now();
    return comparedMs > 0;
  });
  const sent = await putFile(served, part, 'revision', freshCopy(path, run), LINE);
  if ((await compared) === null) throw new Error('nothing was compared');
  return { seconds: (comparedMs - sent.lastByteMs) / 1000, file: sent.id };
}

async function findingsOf({ sender }: Served, file: string): Promise<string> {
  const { text } = await sender.get(`/api/files/${file}/findings`);
  const { items } = JSON.parse(text) as { items: { finding: { kind: string; revisionPage: number | null } }[] };
  return items
    .map(({ finding }) => `${finding.kind} ${finding.revisionPage}`)
    .sort()
    .join(', ');
}
