import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const PROGRAM = fileURLToPath(new URL('../../../src/command/witnessleaf.ts', import.meta.url));

/** The program as an operator starts it, in a process of its own. */
export interface ServiceLife {
  readonly origin: string;
  /** The link of a first start; null later. */
  readonly firstLink: string | null;
  readonly pid: number;
  /** @returns by which signal it ended, or its exit status */
  end(signal: NodeJS.Signals): Promise<string>;
}

/**
 * Starts `witnessleaf serve` on a folder and waits until it listens.
 *
 * @param cache  where compiled code is kept from one start to the next
 * @param killInMs  kills it so long after its start, listening or not
 * @param environment  settings that differ from those of the kills
 * @returns null where it was killed before it listened
 */
export async function startLife(
  folder: string,
  cache: string,
  killInMs?: number,
  environment: Readonly<Record<string, string>> = {},
): Promise<ServiceLife | null> {
  const child = spawn(process.execPath, [PROGRAM, 'serve'], {
    stdio: ['ignore', 'ignore', 'pipe'],
    env: {
      ...process.env,
      WITNESSLEAF_TOKEN: undefined,
      WITNESSLEAF_SERVER: undefined,
      NODE_COMPILE_CACHE: join(cache, 'compiled'),
      WITNESSLEAF_FOLDER: folder,
      WITNESSLEAF_PORT: '0',
      WITNESSLEAF_WORKERS: '1',
      WITNESSLEAF_REQUESTS_PER_MINUTE: '1000000',
      WITNESSLEAF_STOP_SECONDS: '5',
      WITNESSLEAF_LOG_LEVEL: 'error',
      ...environment,
    },
  });
  const ended = new Promise<string>((done, fail) => {
    child.on('error', fail).on('close', (code, signal) => done(signal ?? `${code}`));
  });
  if (killInMs !== undefined) setTimeout(() => child.kill('SIGKILL'), killInMs);
  let said = '';
  const origin = await new Promise<string | null>((done) => {
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      said += text;
      const found = /listens at (\S+)\n/.exec(said)?.[1];
      if (found !== undefined) done(found);
    });
    void ended.then(() => done(null));
  });
  if (origin === null) {
    const how = await ended;
    if (how === 'SIGKILL' && killInMs !== undefined) return null;
    throw new Error(`the service ended with ${how} before it listened: ${said}`);
  }
  const firstLink = /^(http\S+#\S+)$/m.exec(said)?.[1] ?? null;
  return {
    origin,
    firstLink,
    pid: child.pid ?? 0,
    end(signal) {
      child.kill(signal);
      return ended;
    },
  };
}
