import { existsSync } from 'node:fs';
import { chromium } from 'playwright-core';
import type { Browser } from 'playwright-core';

/** Chromium of this machine: the one that CHROMIUM_PATH names, or Debian's. */
const EXECUTABLE = [process.env.CHROMIUM_PATH ?? '', '/usr/bin/chromium'].find(
  (path) => path !== '' && existsSync(path),
);

/** Whether there is a browser to test with; a loud line where there is none, and a failure in CI. */
export function hasChromium(): boolean {
  if (EXECUTABLE !== undefined) return true;
  const line = 'NOT CHECKED: Chromium is absent; apt-get install chromium, or set CHROMIUM_PATH';
  if ((process.env.CI ?? '') !== '') throw new Error(line);
  process.stderr.write(`\n${line}\n`);
  return false;
}

/** Starts the browser; the caller closes it. */
export async function startChromium(): Promise<Browser> {
  return chromium.launch({
    ...(EXECUTABLE === undefined ? {} : { executablePath: EXECUTABLE }),
    args: ['--no-sandbox'],
  });
}
