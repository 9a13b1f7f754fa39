import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Readable } from 'node:stream';
import { scratchFolder } from '../../archive/scratch.ts';

/** All bytes of a stream. */
export async function wholeOf(stream: Readable): Promise<Buffer> {
  const pieces: Buffer[] = [];
  for await (const piece of stream) pieces.push(piece as Buffer);
  return Buffer.concat(pieces);
}

/** Unpacks a pack with `unzip`, as a stranger would, into a new folder. */
export function unpack(zip: Uint8Array): { readonly folder: string; readonly file: string } {
  const top = scratchFolder();
  const file = join(top, 'pack.zip');
  const folder = join(top, 'pack');
  writeFileSync(file, zip);
  execFileSync('unzip', ['-q', file, '-d', folder]);
  return { folder, file };
}

/** A folder with nothing in it but a shell, `openssl` and `sha256sum`. */
export function bareTools(): string {
  const folder = join(scratchFolder(), 'tools');
  mkdirSync(folder);
  for (const [name, tool = name] of [['sh', 'dash'], ['openssl'], ['sha256sum']] as const) {
    symlinkSync(execFileSync('which', [tool]).toString().trim(), join(folder, name));
  }
  return folder;
}

/** Runs `verify.sh` with these tools and no other environment. */
export function runScript(
  tools: string,
  folder: string,
  script = 'verify.sh',
  words: readonly string[] = [],
): { readonly status: number | null; readonly lines: readonly string[]; readonly err: string } {
  const run = spawnSync(join(tools, 'sh'), [script, ...words], { cwd: folder, env: { PATH: tools } });
  return { status: run.status, lines: run.stdout.toString().split('\n'), err: run.stderr.toString() };
}

/** Every file below a folder, by its name from there. */
export function namesBelow(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1))
    .sort();
}
