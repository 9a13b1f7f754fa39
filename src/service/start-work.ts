import { X509Certificate } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import {
  archivePaths,
  RecentFacts,
  archiveWork,
  askForAllComparisons,
  getWorkersReady,
  holdLoans,
  openActivity,
  openDummiesAhead,
  openPractice,
  startPageWorkers,
  startTimeStamping,
  startWorkers,
} from '../archive/index.ts';
import type { Activity, Archive, Authority, WorkersKept } from '../archive/index.ts';
import type { Tolerances } from '../model/index.ts';
import { DEFAULT_LIMITS, DEFAULT_TOLERANCES, Refusal } from '../model/index.ts';
import type { CopyMaker, PagePictures, ReportPdfs } from '../reporting/index.ts';
import { formatReport, keepExhibits, openPagePictures, openReportPdfs, startCopyMaker } from '../reporting/index.ts';
import type { Logger } from 'pino';
import { startPicturesAhead } from './pictures-ahead.ts';
import { PROJECT_FOLDER, SETTINGS } from './configuration.ts';
import type { Configuration } from './configuration.ts';

/** Files that are worked on at the same time; the pages of each are spread over the processes. */
const JOBS_AT_ONCE = 2;
const LEASE_MS = 60_000;
const IDLE_MS = 2000;
const LONGEST_WAIT_MS = 600_000;
const NEWS_KEPT = 5000;
const LOAN_MS = 30_000;
/**
 * Workers that are warm save each check the second in which they load and compile, but hold some hundred megabytes: they
 * outlast a check by as long as somebody may take to send the next file.
 */
const WORKERS_KEPT = { restMs: 20_000, restMb: 800, endMs: 10 * 60_000 } satisfies WorkersKept;
/** Whoever sends a file or looks at a page is served before a check goes on. */
const CHECKING_NICENESS = 10;

/** What goes on behind the routes. */
export interface Working {
  readonly activity: Activity;
  readonly pictures: PagePictures;
  readonly copies: CopyMaker;
  readonly reportPdfs: ReportPdfs;
  readonly tolerances: Tolerances;
  /** Certificates in DER of whose time-stamps are believed. */
  readonly authorities: readonly Uint8Array[];
  /** There may be something to do. */
  nudge(): void;
  /** A file begins to come in: what its check needs gets ready meanwhile. */
  expectFile(partId: string | null): void;
  /** What is in hand is given back; then the processes end. */
  close(): Promise<void>;
}

/** What work is started with. */
export interface WorkingOrder {
  readonly archive: Archive;
  /** Of the archive, absolute. */
  readonly folder: string;
  readonly configuration: Configuration;
  readonly journal: Logger;
  readonly now: () => number;
  /** False: files are taken and wait. */
  readonly isChecking: boolean;
}

/**
 * Starts reading, comparing, drawing and time-stamping in the background.
 *
 * @throws {Refusal} malformed: an authority for time-stamps without certificates that it is known by
 */
export async function startWork(order: WorkingOrder): Promise<Working> {
  const { archive, folder, configuration, journal, now, isChecking } = order;
  const [limits, tolerances] = [DEFAULT_LIMITS, DEFAULT_TOLERANCES];
  // First, while nothing runs yet that would have to be ended.
  const authority = await authorityOf(configuration);
  const activity = openActivity({ now, keep: NEWS_KEPT });
  const pool = startPageWorkers(configuration.workers, limits, { ...WORKERS_KEPT, niceness: CHECKING_NICENESS });
  // One of its own, so that nobody waits for a comparison to see a page.
  const drawingPool = startPageWorkers(1, limits, WORKERS_KEPT);
  const copies = startCopyMaker(limits);
  const loans = holdLoans(archive.blobs, LOAN_MS);
  const onTrouble = (error: unknown): void => journal.error({ error: String(error) }, 'trouble behind the routes');
  // A file is checked against its hash once, not for each step of the work on it.
  const lending: Archive = { ...archive, blobs: { ...archive.blobs, lend: (sha256, use) => loans.lend(sha256, use) } };
  const facts = { factsFolder: archivePaths(folder).facts, recentFacts: new RecentFacts() };
  const dummies = openDummiesAhead(lending, { pool, limits, tolerances, ...facts }, onTrouble);
  const practice = openPractice(archive, { pool, limits, tolerances, ...facts }, onTrouble);
  const checking = {
    ...{ pool, limits, tolerances, now, activity, formatReport, ...facts },
    onDummyRead: (partId: string) => dummies.see(partId),
    drawReport: (asked: Parameters<typeof keepExhibits>[1]) => keepExhibits({ archive, pairsAtOnce: 1, now }, asked),
  };
  if (isChecking) await askForAllComparisons(archive, checking);
  const workers = isChecking
    ? await startWorkers({
        jobs: archive.catalogue.jobs,
        owner: 'service',
        workers: JOBS_AT_ONCE,
        work: archiveWork(lending, checking),
        now,
        leaseMs: LEASE_MS,
        idleMs: IDLE_MS,
        patienceMs: (tries) => Math.min(LONGEST_WAIT_MS, 1000 * 4 ** tries),
        onTrouble,
      })
    : null;
  const pictures = openPagePictures(archive, { pool: drawingPool, limits, loans }, now);
  const endAhead = isChecking ? startPicturesAhead({ archive, activity, pictures, pool, onTrouble }) : null;
  const stamping = authority && startTimeStamping(archive.catalogue, { ...authority, now, onTrouble });
  return {
    activity,
    pictures,
    copies,
    reportPdfs: openReportPdfs({ archive, tools: { pool: drawingPool, limits }, factsFolder: facts.factsFolder }),
    tolerances,
    authorities: authority?.trusted ?? [],
    nudge: () => workers?.nudge(),
    expectFile(partId) {
      if (!isChecking) return;
      void getWorkersReady(pool, limits);
      if (partId === null) return;
      dummies.see(partId);
      practice.see(partId);
    },
    async close() {
      await workers?.close();
      await Promise.all([dummies.close(), practice.close()]);
      await endAhead?.();
      await stamping?.close();
      loans.close();
      await Promise.all([pool.close(), drawingPool.close(), copies.close()]);
    },
  };
}

/**
 * The authority of the configuration, or null.
 *
 * @throws {Refusal} malformed: an authority without certificates that it is known by
 */
async function authorityOf({ timeStampUrl: url, timeStampTrust: file }: Configuration): Promise<Authority | null> {
  if (url === '') return null;
  const pem = file === '' ? '' : await readFile(resolve(PROJECT_FOLDER, file), 'utf8');
  const blocks = pem.match(/-----BEGIN CERTIFICATE-----[\s\S]+?-----END CERTIFICATE-----/g) ?? [];
  if (blocks.length === 0) {
    const expected = 'a file with certificates, without which no time-stamp can be believed';
    throw new Refusal('malformed', {
      pointer: SETTINGS.timeStampTrust.name,
      expected,
      found: file === '' ? 'nothing' : file,
    });
  }
  return { url, trusted: blocks.map((block) => new X509Certificate(block).raw) };
}
