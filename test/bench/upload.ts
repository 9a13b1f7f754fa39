/**
 * `npm run bench:upload`: a file of 1 GB brought into the archive over HTTP on this machine, against `cp` followed by
 * `sha256sum` of the same file on the same disk, in one run, in turn: by `PUT`, in pieces as the pages send them (tus),
 * and by `witnessleaf send` with all that it does. The hash that a `PUT` announces is made before. Ours ends when the archive has acknowledged the file: hashed, and on
 * disk by `fsync`, which `cp` does not wait for. Medians of five; `--runs N`, `--mb N`.
 */
import { spawn, spawnSync } from 'node:child_process';
import { randomFillSync } from 'node:crypto';
import { closeSync, openSync, readdirSync, readFileSync, rmSync, writeSync } from 'node:fs';
import { request } from 'node:http';
import { join } from 'node:path';
import { setTimeout as after } from 'node:timers/promises';
import { parseArgs } from 'node:util';
import { asked } from '../service/crash/two-sides.ts';
import { BENCH_FOLDER } from './bench-book.ts';
import { putFile, serveForBench } from './served.ts';
import type { Served } from './served.ts';
import { median, tellMachine, tellTargets } from './telling.ts';

const { values } = parseArgs({
  options: { runs: { type: 'string', default: '5' }, mb: { type: 'string', default: '1000' } },
});
const runs = Number(values.runs);
const megabytes = Number(values.mb);
const MOST = 1.5;
const MB = 1e6;
/** As the pages and our own client cut a file. */
const PIECE_BYTES = 8 * 2 ** 20;
const TUS = { 'Tus-Resumable': '1.0.0' };

const LOOP_MS = 200;
const source = join(BENCH_FOLDER, 'upload.bin');
const copy = join(BENCH_FOLDER, 'upload-copy.bin');

/** Bytes that no archive has seen. */
function writeSource(): void {
  const piece = Buffer.allocUnsafe(MB);
  const file = openSync(source, 'w');
  for (let n = 0; n < megabytes; n++) writeSync(file, randomFillSync(piece));
  closeSync(file);
  // what is still to be written of it is no part of what is measured
  spawnSync('sync', [source]);
}

function pieces(bytes: number): readonly Uint8Array[] {
  const all = readFileSync(source);
  return Array.from({ length: Math.ceil(all.length / bytes) }, (_, n) => all.subarray(n * bytes, (n + 1) * bytes));
}

/** Seconds. */
function copyAndHash(): number {
  const started = performance.now();
  const { status } = spawnSync('sh', ['-c', `cp '${source}' '${copy}' && sha256sum '${copy}'`]);
  if (status !== 0) throw new Error('cp or sha256sum failed');
  return (performance.now() - started) / 1000;
}

async function sendInPieces({ origin, sender }: Served, part: string): Promise<number> {
  const all = pieces(PIECE_BYTES);
  const started = performance.now();
  const told = Object.entries({ part, kind: 'revision', filename: 'upload.bin' });
  const metadata = told.map(([key, value]) => `${key} ${Buffer.from(value).toString('base64')}`).join(',');
  const length = `${megabytes * MB}`;
  const begin = { ...TUS, 'Upload-Length': length, 'Upload-Metadata': metadata };
  const begun = await sender.send('POST', '/api/uploads', undefined, begin);
  const path = begun.headers.get('location') ?? '';
  let offset = 0;
  for (const piece of all) {
    const headers = { ...TUS, 'Content-Type': 'application/offset+octet-stream', 'Upload-Offset': `${offset}` };
    await patch(`${origin}${path}`, { ...headers, Origin: origin, Cookie: sender.cookie }, piece);
    offset += piece.length;
  }
  const { state } = await asked<{ state: string }>(sender.get(path), 200);
  if (state !== 'received') throw new Error(`the upload is ${state}`);
  return (performance.now() - started) / 1000;
}

function patch(url: string, headers: Readonly<Record<string, string>>, piece: Uint8Array): Promise<void> {
  return new Promise((done, fail) => {
    const asking = request(url, { method: 'PATCH', headers: { ...headers, 'Content-Length': piece.length } });
    asking.on('error', fail).on('response', (answer) => {
      answer.resume().on('end', done);
      if (answer.statusCode !== 204) fail(new Error(`answered ${answer.statusCode}`));
    });
    asking.end(piece);
  });
}

async function sendByCommand({ origin, sender }: Served, title: string): Promise<number> {
  const { secret } = await asked<{ secret: string }>(sender.send('POST', '/api/tokens', { label: 'bench' }), 201);
  const program = join(import.meta.dirname, '..', '..', 'src', 'command', 'witnessleaf.ts');
  const env = { ...process.env, WITNESSLEAF_SERVER: origin, WITNESSLEAF_TOKEN: secret, XDG_STATE_HOME: BENCH_FOLDER };
  const started = performance.now();
  const child = spawn(process.execPath, [program, 'send', source, '--title', title], { stdio: 'ignore', env });
  const status = await new Promise((done) => child.on('exit', done));
  if (status !== 0) throw new Error(`witnessleaf send ended with ${String(status)}`);
  return (performance.now() - started) / 1000;
}

tellMachine();
console.log(`a file of ${megabytes} MB, ${runs} runs`);
const served = await serveForBench();
const taken: Record<'yardstick' | 'put' | 'pieces' | 'command', number[]> = {
  ...{ yardstick: [], put: [], pieces: [], command: [] },
};
const cpuS: Record<'put' | 'pieces' | 'command', number[]> = { put: [], pieces: [], command: [] };

async function measured(
  name: keyof typeof cpuS,
  send: (at: { title: string; part: string }) => Promise<number>,
): Promise<void> {
  writeSource();
  // the loop stood still: what the service closed meanwhile is noticed before the next request
  await after(LOOP_MS);
  const at = await served.newPart();
  const before = served.cpuS().own;
  taken[name].push(await send(at));
  cpuS[name].push(served.cpuS().own - before);
  await served.quiet();
  const blobs = join(served.folder, 'blobs');
  for (const shelf of readdirSync(blobs)) if (shelf.length === 2) rmSync(join(blobs, shelf), { recursive: true });
}

try {
  for (let run = 0; run < runs; run++) {
    writeSource();
    taken.yardstick.push(copyAndHash());
    rmSync(copy);
    await measured('put', async ({ part }) => {
      const { begunMs, answeredMs } = await putFile(served, part, 'revision', pieces(2 ** 20));
      return (answeredMs - begunMs) / 1000;
    });
    await measured('pieces', ({ part }) => sendInPieces(served, part));
    await measured('command', ({ title }) => sendByCommand(served, title));
  }
} finally {
  await served.end();
  rmSync(source, { force: true });
}
const NAMES = { put: 'PUT', pieces: 'pieces of 8 MiB', command: 'witnessleaf send' };
const tell = (name: string, all: readonly number[], more = ''): void =>
  console.log(
    `${name.padEnd(34)} wall ${median(all).toFixed(2)} s (${Math.min(...all).toFixed(2)} to ${Math.max(...all).toFixed(2)})${more}`,
  );
tell('cp, then sha256sum', taken.yardstick);
const kinds = ['put', 'pieces', 'command'] as const;
for (const kind of kinds) tell(NAMES[kind], taken[kind], `  cpu of the service ${median(cpuS[kind]).toFixed(2)} s`);
const targets = kinds.map((kind) => ({
  name: `${NAMES[kind]} over cp and sha256sum`,
  value: median(taken[kind].map((seconds, run) => seconds / taken.yardstick[run]!)),
  most: MOST,
  unit: '',
}));
process.exitCode = tellTargets(targets) ? 0 : 1;
