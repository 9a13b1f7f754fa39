import { afterAll } from 'vitest';
import type { Archive } from '../../src/archive/index.ts';
import { openArchive } from '../../src/archive/index.ts';
import { openJournal, readConfiguration, startService } from '../../src/service/index.ts';
import type { Service } from '../../src/service/index.ts';
import { scratchFolder } from '../archive/scratch.ts';

/** 2 March 2031, 9:00 UTC. */
const MORNING = Date.UTC(2031, 2, 2, 9);
const MINUTE_MS = 60_000;

/** A service on a port that was free, over an archive of its own, with a clock that the test moves. */
export interface StartedService {
  readonly service: Service;
  readonly archive: Archive;
  /** Of the archive. */
  readonly folder: string;
  readonly origin: string;
  /** Lines of the journal, parsed. */
  readonly journal: readonly Readonly<Record<string, unknown>>[];
  /** Moves the clock on. */
  wait(ms: number): void;
  /** Stops the service and starts it again over the same archive, at the same address, a minute later. */
  restart(): Promise<void>;
}

const running: { stop(): Promise<void> }[] = [];
afterAll(async () => {
  for (const one of running.splice(0)) await one.stop();
});

/** Starts one; what is set here differs from the defaults. All are stopped when the test file ends. */
export async function startedService(
  environment: Readonly<Record<string, string>> = {},
  isChecking = false,
): Promise<StartedService> {
  let at = MORNING;
  const journal: Readonly<Record<string, unknown>>[] = [];
  const folder = scratchFolder();
  const archive = await openArchive(folder, at);
  const start = (port: string): Promise<Service> =>
    startService({
      archive,
      configuration: readConfiguration({
        WITNESSLEAF_FOLDER: folder,
        WITNESSLEAF_REQUESTS_PER_MINUTE: '1000000',
        WITNESSLEAF_SIGN_INS_PER_MINUTE: '10000',
        WITNESSLEAF_STOP_SECONDS: '1',
        ...environment,
        WITNESSLEAF_PORT: port,
      }),
      journal: openJournal('info', {
        write: (line) => void journal.push(JSON.parse(line) as Readonly<Record<string, unknown>>),
      }),
      now: () => at,
      isChecking,
      passwordCost: { memoryKib: 8, passes: 1 },
    });
  const service = await start('0');
  let latest = service;
  const stop = async (): Promise<void> => {
    await latest.stop();
    archive.close();
  };
  const restart = async (): Promise<void> => {
    await latest.stop();
    at += MINUTE_MS;
    latest = await start(new URL(service.origin).port);
  };
  running.push({ stop });
  return { service, archive, folder, origin: service.origin, journal, wait: (ms) => void (at += ms), restart };
}
