/** `npm run checks`: types, lint, layout, rooms, unused exports; as many at once as there are cores, the longest first. */
import { spawn } from 'node:child_process';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../', import.meta.url));
const waiting = ['lint', 'types', 'format', 'unused', 'rooms'];
const failed: string[] = [];

await Promise.all(Array.from({ length: availableParallelism() }, workThrough));
if (failed.length > 0) console.error(`\nchecks failed: ${failed.join(', ')}`);
process.exitCode = failed.length > 0 ? 1 : 0;

async function workThrough(): Promise<void> {
  for (let script = waiting.shift(); script !== undefined; script = waiting.shift()) await check(script);
}

async function check(script: string): Promise<void> {
  const begun = performance.now();
  const run = spawn('npm', ['run', '-s', script], { cwd: ROOT, shell: process.platform === 'win32' });
  const printed: Buffer[] = [];
  [run.stdout, run.stderr].forEach((stream) => stream.on('data', (piece: Buffer) => printed.push(piece)));
  const status = await new Promise<number | null>((done, fail) => run.on('close', done).on('error', fail));
  const seconds = ((performance.now() - begun) / 1000).toFixed(1);
  console.log(`${status === 0 ? 'holds ' : 'FAILED'}  ${script.padEnd(7)} ${seconds.padStart(5)} s`);
  if (status === 0) return;
  failed.push(script);
  process.stderr.write(Buffer.concat(printed));
}
