import type { Outlet } from './desk.ts';

/** How far a step of the work has come, in pages. */
export interface Step {
  readonly stage: string;
  readonly done: number;
  readonly total: number;
}

/** Shows how far the work is. */
export interface ProgressBar {
  show(step: Step): void;
  /** Takes the bar off the terminal, so that what follows starts on a clean line. */
  clear(): void;
}

const REDRAW_MS = 100;
/** Before this much of a step has passed, a guess about the rest of it would be noise. */
const GUESS = { afterMs: 1000, afterPages: 2 };
const BAR_COLUMNS = 32;

/**
 * A bar on a terminal, redrawn in place; elsewhere one plain line as each step begins.
 *
 * @param outlet  standard error
 * @param now     the clock, in milliseconds
 */
export function progressBar(outlet: Outlet, now: () => number): ProgressBar {
  let stage = '';
  let startedAt = 0;
  let drawnAt = -Infinity;
  let isShown = false;
  const clear = (): void => {
    if (isShown) outlet.write('\r\u001b[K');
    isShown = false;
  };
  return {
    clear,
    show: (step) => {
      const at = now();
      if (step.stage !== stage) {
        stage = step.stage;
        startedAt = at;
        drawnAt = -Infinity;
        if (!outlet.isTerminal) outlet.write(`${step.stage} ${pages(step.total)}\n`);
      }
      const isDue = at - drawnAt >= REDRAW_MS || step.done === step.total;
      if (!outlet.isTerminal || !isDue) return;
      drawnAt = at;
      outlet.write(`\r${barLine(step, at - startedAt, outlet.columns)}\u001b[K`);
      isShown = true;
    },
  };
}

/** The bar as a line: what is done, a leaf for each share of the pages, the count, and the time left in this step. */
export function barLine({ stage, done, total }: Step, elapsedMs: number, columns: number): string {
  const count = `${done} of ${pages(total)}`;
  const isKnown = elapsedMs >= GUESS.afterMs && done >= GUESS.afterPages && done < total;
  const left = isKnown ? `, ${timeLeft((elapsedMs / done) * (total - done))} left` : '';
  const words = `${count}${left}`;
  const room = Math.min(BAR_COLUMNS, columns - 1 - 11 - 1 - words.length);
  if (room < 8) return `${stage} ${words}`.slice(0, columns - 1);
  const leaves = total === 0 ? room : Math.floor((done / total) * room);
  return `${stage.padEnd(10)} ${'|'.repeat(leaves)}${'.'.repeat(room - leaves)} ${words}`;
}

/** A stretch of time as a person would say it: "40 s", "3 min". */
export function timeLeft(ms: number): string {
  const seconds = Math.ceil(ms / 1000);
  if (seconds < 10) return `${seconds} s`;
  if (seconds < 90) return `${Math.ceil(seconds / 5) * 5} s`;
  return `${Math.ceil(seconds / 60)} min`;
}

function pages(count: number): string {
  return `${count} ${count === 1 ? 'page' : 'pages'}`;
}
