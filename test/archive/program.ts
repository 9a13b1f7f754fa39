import { spawn } from 'node:child_process';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { afterEach } from 'vitest';

/** Another process that a test talks with, a line at a time. */
export interface Program {
  readonly pid: number;
  say(line: string): void;
  /** The next line that it prints; its status or signal where it ended instead. */
  hear(): Promise<string>;
  /** @returns when it is gone */
  kill(signal: NodeJS.Signals): Promise<void>;
}

const running: (() => void)[] = [];
afterEach(() => running.splice(0).forEach((end) => end()));

/** Starts a file of ours on a folder and waits for its first line; what still runs after the test is killed. */
export async function program(file: URL, folder: string): Promise<Program> {
  const child = spawn(process.execPath, [fileURLToPath(file), folder], { stdio: ['pipe', 'pipe', 'inherit'] });
  running.push(() => child.kill('SIGKILL'));
  const ended = new Promise<string>((done) => child.once('close', (code, signal) => done(signal ?? `${code}`)));
  const lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]();
  const hear = async (): Promise<string> => {
    const line = await lines.next();
    return line.done === true ? ended : line.value;
  };
  await hear();
  return {
    pid: child.pid ?? 0,
    say: (line) => void child.stdin.write(`${line}\n`),
    hear,
    async kill(signal) {
      child.kill(signal);
      await ended;
    },
  };
}
