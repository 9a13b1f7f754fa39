import { resolve } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { holdFolder, openArchive } from '../archive/index.ts';
import { openJournal, PROJECT_FOLDER, readConfiguration, startService } from '../service/index.ts';
import type { Service } from '../service/index.ts';
import type { Desk } from './desk.ts';
import type { OnStop } from './compare.ts';

/** What the service takes from its surroundings. */
export interface Serving {
  readonly environment: Readonly<Record<string, string | undefined>>;
  readonly onStop: OnStop;
  /** Milliseconds since 1970. */
  readonly clock: () => number;
}

/** For what the service itself does not wait for any longer at a stop. */
const BEYOND_MS = 5000;
const SECOND_MS = 1000;
/**
 * What comes over lines lies outside the engine's heap, and it would clear the heap, with everybody waiting, whenever
 * 64 MB of it have come and gone: a third of the processor time of an upload. Now both count together.
 */
const ENGINE = '--external-memory-accounted-in-global-limit';

/**
 * Opens the archive and serves it until the process is told to stop. The journal goes to standard output, a line of JSON
 * each; what a person has to know, to standard error.
 *
 * @returns never, but where it is stopped
 * @throws {Refusal} malformed: as `readConfiguration`; unavailable: as `startService`; and as `holdFolder` and `openArchive`
 */
export async function serve(desk: Desk, { environment, onStop, clock }: Serving): Promise<number> {
  setFlagsFromString(ENGINE);
  const configuration = readConfiguration(environment);
  const folder = resolve(PROJECT_FOLDER, configuration.folder);
  // Before anything in the folder is touched: opening takes away what a killed process left unfinished.
  const hold = await holdFolder(folder, clock());
  const opened: { close(): void }[] = [];
  const end = async (): Promise<void> => {
    opened.forEach((one) => one.close());
    await hold.release();
  };
  const start = async (): Promise<Service> => {
    const archive = await openArchive(folder, clock());
    opened.push(archive);
    const journal = openJournal(configuration.logLevel, { write: (line) => desk.out.write(line) });
    return startService({ archive, configuration, journal, now: clock });
  };
  const service = await start().catch(async (error: unknown) => {
    await end();
    throw error;
  });
  const stop = async (): Promise<void> => {
    await service.stop();
    await end();
  };
  onStop(stop, configuration.stopSeconds * SECOND_MS + BEYOND_MS);
  const link = service.firstLink;
  const first = link === null ? '' : `Nobody is in yet. This link makes the first account, once:\n${link}\n`;
  desk.err.write(`Witness Leaf keeps ${folder} and listens at ${service.origin}\n${first}`);
  return new Promise<number>(() => undefined);
}
