import { createHash } from 'node:crypto';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { request } from 'node:http';
import type { IncomingMessage } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as after } from 'node:timers/promises';
import buildPages from '../../web/build.ts';
import { browserAt } from '../service/caller.ts';
import type { Caller } from '../service/caller.ts';
import { startLife } from '../service/crash/service-life.ts';
import { asked } from '../service/crash/two-sides.ts';
import { BENCH_FOLDER } from './bench-book.ts';
import { ownCpuS, treeCpuS } from './measured-run.ts';

/** The service as an operator starts it, in a process of its own, with somebody who sends files. */
export interface Served {
  readonly origin: string;
  /** Its archive, on the disk of the books. */
  readonly folder: string;
  readonly sender: Caller & { readonly cookie: string };
  /** A title with a part. */
  newPart(): Promise<{ readonly title: string; readonly part: string }>;
  /** Processor time of the service so far, with its workers and by itself. */
  cpuS(): { readonly all: number; readonly own: number };
  /** Until nothing is left to do. */
  quiet(): Promise<void>;
  /** Until nothing is done ahead either. */
  idle(): Promise<void>;
  /** Ends it; its archive goes too. */
  end(): Promise<void>;
}

/** Of whoever sends. */
export const PASSWORD = 'ein Blatt bleibt stehen';
const LOOK_MS = 500;
/** Below this share of a core nothing is at work. */
const IDLE_SHARE = 0.05;
const IDLE_MS = 3000;

/** Starts it over an empty archive, with settings that differ from the defaults. */
export async function serveForBench(environment: Readonly<Record<string, string>> = {}): Promise<Served> {
  await buildPages();
  const folder = mkdtempSync(join(BENCH_FOLDER, 'archive-'));
  const life = await startLife(folder, tmpdir(), undefined, { WITNESSLEAF_WORKERS: '', ...environment });
  if (life?.firstLink == null) throw new Error('the service did not start');
  const { origin, firstLink } = life;
  const sender = browserAt(origin);
  const first = { party: 'Offizin Weiher', person: 'Ada Weiher' };
  const invitation = firstLink.split('#')[1];
  await asked(sender.send('POST', '/api/accounts', { invitation, signInName: 'ada', password: PASSWORD, first }), 201);
  const me = await asked<{ party: { id: string } }>(sender.get('/api/me'), 200);
  const other = { party: 'Verlag am Kai', person: 'Bruno Kai' };
  const { person } = await asked<{ person: { party: string } }>(sender.send('POST', '/api/parties', other), 201);
  const sides = { name: 'Ein Winterbuch', publisher: person.party, printer: me.party.id };
  const openJobs = async (): Promise<number> => {
    const { text } = await sender.get('/metrics');
    return [...text.matchAll(/^witnessleaf_jobs\S* (\d+)$/gm)].reduce((sum, [, count]) => sum + Number(count), 0);
  };
  const served: Served = {
    ...{ origin, folder, sender },
    async newPart() {
      const ask = { kind: 'book-block' };
      const { id: title } = await asked<{ id: string }>(sender.send('POST', '/api/titles', sides), 201);
      return {
        title,
        part: (await asked<{ id: string }>(sender.send('POST', `/api/titles/${title}/parts`, ask), 201)).id,
      };
    },
    cpuS: () => ({ all: treeCpuS(life.pid), own: ownCpuS(life.pid) }),
    async quiet() {
      while ((await openJobs()) > 0) await after(LOOK_MS);
    },
    async idle() {
      for (let before = served.cpuS().all; ; before = served.cpuS().all) {
        await after(IDLE_MS);
        if ((served.cpuS().all - before) * 1000 < IDLE_SHARE * IDLE_MS) return;
      }
    },
    async end() {
      await life.end('SIGTERM');
      rmSync(folder, { recursive: true, force: true });
    },
  };
  return served;
}

/** A file that was sent, and the moments of its last byte and of its answer. */
export interface SentAt {
  readonly id: string;
  /** Milliseconds since 1970. */
  readonly begunMs: number;
  /** The last byte was handed to the system, which has at most its buffers left to send. */
  readonly lastByteMs: number;
  readonly answeredMs: number;
}

/**
 * Sends pieces as a file by `PUT`; their hash, which goes before them, is made before the clock runs.
 *
 * @param bytesPerS  as fast as a line would bring them; absent: as fast as they are taken
 */
export async function putFile(
  { origin, sender }: Pick<Served, 'origin' | 'sender'>,
  part: string,
  kind: 'dummy' | 'revision',
  pieces: readonly Uint8Array[],
  bytesPerS = Infinity,
): Promise<SentAt> {
  const url = `${origin}/api/parts/${part}/files/${kind}.pdf?kind=${kind}`;
  const hash = createHash('sha256');
  for (const piece of pieces) hash.update(piece);
  const headers = {
    ...{ Origin: origin, Cookie: sender.cookie, 'Content-Type': 'application/pdf' },
    'Content-Digest': `sha-256=:${hash.digest('base64')}:`,
  };
  const begunMs = Date.now();
  const asking = request(url, { method: 'PUT', headers });
  const answering = once(asking, 'response') as Promise<[IncomingMessage]>;
  let sent = 0;
  for (const piece of pieces) {
    if (!asking.write(piece)) await once(asking, 'drain');
    sent += piece.length;
    const earlyMs = (1000 * sent) / bytesPerS - (Date.now() - begunMs);
    if (earlyMs > 1) await after(earlyMs);
  }
  await new Promise<void>((done) => asking.end(done));
  const lastByteMs = Date.now();
  const [answer] = await answering;
  const answeredMs = Date.now();
  let text = '';
  for await (const piece of answer.setEncoding('utf8')) text += piece as string;
  if (answer.statusCode !== 201) throw new Error(`answered ${answer.statusCode}: ${text.slice(0, 300)}`);
  return { id: (JSON.parse(text) as { id: string }).id, begunMs, lastByteMs, answeredMs };
}
