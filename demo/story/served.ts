import { spawn, type ChildProcess } from 'node:child_process';
import { createWriteStream } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { execute } from './empty-room.ts';
import type { RunProgram } from './stage.ts';

const PROGRAM = join(import.meta.dirname, '..', '..', 'src', 'command', 'witnessleaf.ts');
/** Where people expect it. */
const USUAL_PORT = 8420;

/** A service in a process of its own. */
export interface Served {
  readonly origin: string;
  readonly firstLink: string;
  /** Ends when the service does. */
  readonly ended: Promise<void>;
  stop(): Promise<void>;
}

/** Runs the program in a process of its own, as people do. */
export const runAsProcess: RunProgram = ({ environment }, words) =>
  execute(process.execPath, [PROGRAM, ...words], { env: { PATH: process.env.PATH ?? '', ...environment } });

/**
 * Starts `serve` on a new archive and waits for its first link.
 *
 * @param journal  a file; what the service writes down goes there
 * @param port  0 for any that is free
 * @throws {Error} it ended before it could be reached
 */
export async function serveArchive(folder: string, journal: string, port: string): Promise<Served> {
  const service = spawn(process.execPath, [PROGRAM, 'serve'], {
    env: { PATH: process.env.PATH ?? '', WITNESSLEAF_FOLDER: folder, WITNESSLEAF_PORT: port },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  service.stdout.pipe(createWriteStream(journal));
  const ended = new Promise<void>((done) => service.on('close', () => done()));
  const firstLink = await linkOf(service);
  const stop = async (): Promise<void> => {
    service.kill('SIGTERM');
    await ended;
  };
  return { origin: new URL(firstLink).origin, firstLink, ended, stop };
}

/** The usual port as a setting of the service; where it is taken, any that is free. */
export function freePort(): Promise<string> {
  return new Promise((done) => {
    const tried = createServer();
    tried.once('error', () => done('0'));
    tried.listen(USUAL_PORT, '127.0.0.1', () => tried.close(() => done(String(USUAL_PORT))));
  });
}

function linkOf(service: ChildProcess): Promise<string> {
  const told: string[] = [];
  return new Promise((done, fail) => {
    createInterface({ input: service.stderr! }).on('line', (line) => {
      told.push(line);
      if (line.startsWith('http')) done(line);
    });
    service.on('close', (status) => fail(new Error(`the service ended with ${status}: ${told.join('\n')}`)));
  });
}
