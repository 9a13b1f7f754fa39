import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { hasTool } from '../../reading/pdf/outside-tool.ts';

/** Whether the outside judge is there. */
export const hasOpenssl = hasTool('openssl', 'openssl');

/** A desk with files on it, at which `openssl` works. */
export interface Desk {
  readonly path: (name: string) => string;
  readonly put: (name: string, content: Uint8Array | string) => string;
  /** What it prints; it throws where the exit status is not 0. */
  readonly run: (...words: readonly string[]) => string;
  /** What it says beside what it prints. */
  readonly told: (...words: readonly string[]) => string;
  /** The exit status alone. */
  readonly status: (...words: readonly string[]) => number | null;
  readonly clear: () => void;
}

export function openDesk(): Desk {
  const folder = mkdtempSync(join(tmpdir(), 'sealing-'));
  const path = (name: string) => join(folder, name);
  const options = { cwd: folder, stdio: 'pipe' } as const;
  return {
    path,
    put: (name, content) => {
      writeFileSync(path(name), content);
      return path(name);
    },
    run: (...words) => execFileSync('openssl', words, options).toString(),
    told: (...words) => spawnSync('openssl', words, options).stderr.toString(),
    status: (...words) => spawnSync('openssl', words, options).status,
    clear: () => rmSync(folder, { recursive: true }),
  };
}
