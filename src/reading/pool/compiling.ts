import { setFlagsFromString } from 'node:v8';

/**
 * How a worker's engine compiles at first: only what runs very often, and not with its last and dearest compiler. A check of
 * thirty pages ends before that has paid: it took a sixth of such a check. Kernels are compiled as ever.
 */
export const COMPILING_LITTLE: readonly string[] = [
  '--efficiency-mode',
  '--invocation-count-for-maglev=3000',
  '--invocation-count-for-maglev-osr=400',
];
/** The engine's own settings again. */
export const COMPILING_FULLY: readonly string[] = [
  '--no-efficiency-mode',
  '--invocation-count-for-maglev=400',
  '--invocation-count-for-maglev-osr=100',
];
/** Compiling fully costs half a second; a worker that has worked ten times as long will most likely go on. */
const LITTLE_MS = 5000;
const LOOK_EVERY_MS = 100;

/**
 * Has this process, started with `COMPILING_LITTLE`, compile fully once it has worked for some seconds.
 *
 * @param afterMs  of its processor time
 */
export function compileFullyLater(afterMs = LITTLE_MS): void {
  const look = setInterval(() => {
    const { user, system } = process.cpuUsage();
    if ((user + system) / 1000 < afterMs) return;
    clearInterval(look);
    COMPILING_FULLY.forEach((setting) => setFlagsFromString(setting));
  }, LOOK_EVERY_MS);
  look.unref();
}
