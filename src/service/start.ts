import { createServer } from 'node:http';
import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join, resolve } from 'node:path';
import type { Logger } from 'pino';
import { archivePaths, noticingDamage, openUploads } from '../archive/index.ts';
import type { Archive } from '../archive/index.ts';
import { Refusal } from '../model/index.ts';
import { appOf } from './app.ts';
import { PROJECT_FOLDER } from './configuration.ts';
import type { Configuration } from './configuration.ts';
import { firstToInvite, newInvitation } from './entrances/invitations.ts';
import { DEFAULT_COST, passwordsAt } from './entrances/passwords.ts';
import type { PasswordCost } from './entrances/passwords.ts';
import { newMetrics } from './metrics.ts';
import { ROUTES } from './routes/table.ts';
import { openScrubs } from './scrubbing.ts';
import { startWork } from './start-work.ts';
import type { ServiceTools } from './tools.ts';

const SECOND_MS = 1000;

/** What a service is started with. */
export interface ServiceOrder {
  readonly archive: Archive;
  readonly configuration: Configuration;
  readonly journal: Logger;
  readonly now: () => number;
  /** For tests, in which nobody tries passwords. */
  readonly passwordCost?: PasswordCost;
  /** False: files are taken and wait. */
  readonly isChecking?: boolean;
  /** Where the built pages lie. */
  readonly pagesFolder?: string;
}

/** A service that listens. */
export interface Service {
  /** As this machine reaches it. */
  readonly origin: string;
  /** The link that makes the first account, where nobody is in yet; good once. */
  readonly firstLink: string | null;
  /** Takes nothing more, lets what is under way come to its end for some time, then ends it. */
  stop(): Promise<void>;
}

/**
 * Starts to listen.
 *
 * @throws {Refusal} unavailable: the address cannot be listened on
 * @throws {Refusal} as `startWork`; nothing that was started goes on then
 */
export async function startService(order: ServiceOrder): Promise<Service> {
  const { configuration, journal, now, passwordCost = DEFAULT_COST, isChecking = true } = order;
  const { pagesFolder = join(PROJECT_FOLDER, '.out', 'web') } = order;
  const archive = noticingDamage(order.archive, now, (error) =>
    journal.error({ error: String(error) }, 'damage that could not be recorded'),
  );
  const folder = resolve(PROJECT_FOLDER, configuration.folder);
  const passwords = await passwordsAt(passwordCost);
  const working = await startWork({ archive, folder, configuration, journal, now, isChecking });
  try {
    const uploadsFolder = archivePaths(folder).uploads;
    const mostBytes = configuration.uploadBytes;
    const uploads = await openUploads({ archive, folder: uploadsFolder, mostBytes, now });
    const stopping = new AbortController();
    const scrubs = await openScrubs(folder, now, (error) =>
      journal.error({ error: String(error) }, 'a reading of the archive that could not be kept'),
    );
    const tools: ServiceTools = {
      ...{ archive, uploads, configuration, journal, now, passwords, pagesFolder },
      activity: working.activity,
      pictures: working.pictures,
      copies: working.copies,
      reportPdfs: working.reportPdfs,
      scrubs,
      tolerances: working.tolerances,
      authorities: working.authorities,
      nudge: () => working.nudge(),
      expectFile: (partId) => working.expectFile(partId),
      metrics: newMetrics(),
      stopping: stopping.signal,
    };
    const { server, origin } = await serveRoutes(tools);
    const guest = await firstToInvite(archive.catalogue);
    const first = guest && (await newInvitation(guest.personId, tools));
    const reached = configuration.origin === '' ? origin : configuration.origin;
    return {
      origin,
      firstLink: first && `${reached}/invitation#${first.secret}`,
      async stop() {
        stopping.abort();
        await endServer(server, configuration.stopSeconds * SECOND_MS);
        await scrubs.close();
        await working.close();
      },
    };
  } catch (error) {
    // Otherwise what runs would keep a process alive that serves nothing.
    await working.close();
    throw error;
  }
}

async function serveRoutes(tools: ServiceTools): Promise<{ readonly server: Server; readonly origin: string }> {
  const app = appOf(ROUTES, tools);
  const server = createServer(app);
  // A body that is announced is asked for when everything else is in order, and then by the route.
  server.on('checkContinue', app);
  // A large file over a slow line takes hours; a header does not.
  server.requestTimeout = 0;
  server.headersTimeout = 30 * SECOND_MS;
  return { server, origin: await listen(server, tools.configuration) };
}

async function listen(server: Server, { host, port }: Configuration): Promise<string> {
  await new Promise<void>((done, fail) => {
    server.once('error', (error) => {
      fail(new Refusal('unavailable', { what: `${host}:${port}`, reason: reasonOf(error) }, error));
    });
    server.listen({ host, port }, done);
  });
  const { address, family, port: found } = server.address() as AddressInfo;
  return `http://${family === 'IPv6' ? `[${address}]` : address}:${found}`;
}

function reasonOf(error: Error): string {
  const code = 'code' in error ? error.code : '';
  if (code === 'EADDRINUSE') return 'something else listens there already';
  return code === 'EACCES' ? 'not allowed to listen there' : 'it cannot be listened on';
}

async function endServer(server: Server, patienceMs: number): Promise<void> {
  const ended = new Promise<void>((done) => server.close(() => done()));
  server.closeIdleConnections();
  const force = setTimeout(() => server.closeAllConnections(), patienceMs);
  await ended;
  clearTimeout(force);
}
