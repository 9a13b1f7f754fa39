import { fork, type ChildProcess } from 'node:child_process';
import { setPriority } from 'node:os';
import { fileURLToPath } from 'node:url';
import { Refusal } from '../../model/index.ts';
import { COMPILING_LITTLE } from './compiling.ts';
import { WORKER_MB } from './serve-jobs.ts';
import { unpackError, type FromWorker } from './wire.ts';

interface Waiting {
  readonly id: number;
  readonly resolve: (result: unknown) => void;
  readonly reject: (error: Error) => void;
  readonly timer: NodeJS.Timeout;
}

/**
 * Where the compiled code of a worker's modules is kept: a third of its start. Beside the modules themselves, so that
 * nobody can change the one who could not change the others.
 */
const COMPILED = fileURLToPath(new URL('../../../node_modules/.cache/witnessleaf-compiled', import.meta.url));
const HEAP_SHARE = 0.6;

/**
 * How a worker's engine is set. Rasters lie outside its heap, and it would clear the heap whenever 64 MB of them have
 * come and gone, which is at every other page: now both count together, from a heap that starts large, and it clears again
 * when they have grown by three fifths. What is young lies in little memory, since memory not touched yet is dear;
 * and what code meets is noted from its first call on, since no worker lives long.
 */
const ENGINE = [
  '--external-memory-accounted-in-global-limit',
  '--heap-growing-percent=60',
  '--initial-heap-size=200',
  '--min-semi-space-size=8',
  '--no-lazy-feedback-allocation',
  ...COMPILING_LITTLE,
  `--import=${new URL('./one-file-library.ts', import.meta.url).href}`,
];
/**
 * Memory of one raster is used for the next, rather than given back and asked for again page by page; from one arena, since
 * each thread would hold on to rasters in its own (glibc).
 */
const MEMORY = { MALLOC_MMAP_THRESHOLD_: '268435456', MALLOC_TRIM_THRESHOLD_: '67108864', MALLOC_ARENA_MAX: '1' };
const LAST_WORDS_BYTES = 2000;

/** What a worker runs, and how much of the machine it may use. */
export interface WorkerTerms {
  readonly module: URL;
  readonly workerMb: number;
  readonly niceness?: number;
}

/** One child process of a pool, and the job it is at. */
export class Worker {
  readonly #child: ChildProcess;
  readonly #workerMb: number;
  readonly #onGone: () => void;
  #waiting: Waiting | null = null;
  #failure: Refusal | null = null;
  #lastWords = '';
  readonly #closed: Promise<void>;
  #rested: (() => void) | null = null;
  #gone = false;
  jobs = 0;
  /** Since it last rested: what it held was given back then, its engine's compiled code among it. */
  jobsAwake = 0;
  residentMb = 0;

  constructor({ module, workerMb, niceness = 0 }: WorkerTerms, onGone: () => void) {
    this.#workerMb = workerMb;
    this.#onGone = onGone;
    this.#child = fork(fileURLToPath(module), [], {
      serialization: 'advanced',
      execArgv: [`--max-old-space-size=${Math.round(workerMb * HEAP_SHARE)}`, ...ENGINE],
      env: { ...MEMORY, ...process.env, [WORKER_MB]: String(workerMb), NODE_COMPILE_CACHE: COMPILED },
      stdio: ['ignore', 'ignore', 'pipe', 'ipc'],
    });
    this.#child.stderr?.on('data', (words: Buffer) => {
      this.#lastWords = (this.#lastWords + words.toString()).slice(-LAST_WORDS_BYTES);
    });
    if (niceness > 0 && this.#child.pid !== undefined) standBack(this.#child.pid, niceness);
    this.#child.on('message', (message: FromWorker) => this.#hear(message));
    this.#child.on('error', (error) => this.#lose(error.message));
    this.#closed = new Promise((resolve) => {
      this.#child.on('close', (code, signal) => {
        this.#lose(signal ?? `exit status ${code}`);
        resolve();
      });
      this.#child.on('error', () => resolve());
    });
  }

  get gone(): boolean {
    return this.#gone;
  }

  /**
   * Gives the worker its next job; it must be idle.
   *
   * @throws {Refusal} too-large: out of time or memory; unavailable: the process died
   */
  run(id: number, job: unknown, timeoutMs: number): Promise<unknown> {
    this.jobs += 1;
    this.jobsAwake += 1;
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => this.#stopLate(timeoutMs), timeoutMs);
      this.#waiting = { id, resolve, reject, timer };
      this.#child.send({ id, job }, (error) => {
        if (error !== null) this.#lose(error.message);
      });
    });
  }

  /** Has an idle worker give back what it holds for jobs to come. @returns its memory afterwards, in MB */
  async rest(): Promise<number> {
    this.jobsAwake = 0;
    await new Promise<void>((done) => {
      this.#rested = done;
      this.#child.send({ rest: true }, (error) => {
        if (error !== null) this.#lose(error.message);
      });
    });
    return this.residentMb;
  }

  /** Ends the process and waits until it is gone; a job under way is lost with it. */
  end(): Promise<void> {
    this.#child.kill('SIGKILL');
    return this.#closed;
  }

  #hear(message: FromWorker): void {
    if ('overMb' in message) {
      this.#failure = outOfMemory(this.#workerMb, message.overMb);
      return;
    }
    if ('ready' in message) return;
    if ('rested' in message) {
      this.residentMb = message.residentMb;
      this.#rested?.();
      return;
    }
    const waiting = this.#waiting;
    if (waiting?.id !== message.id) return;
    this.residentMb = message.residentMb;
    this.#settle((job) => ('error' in message ? job.reject(unpackError(message.error)) : job.resolve(message.result)));
  }

  #stopLate(timeoutMs: number): void {
    this.#failure = new Refusal('too-large', {
      what: 'the time for one job',
      limit: timeoutMs,
      found: timeoutMs,
      unit: 'ms',
    });
    void this.end();
  }

  #lose(how: string): void {
    if (this.#gone) return;
    this.#gone = true;
    const heap = /heap out of memory|Allocation failed/.test(this.#lastWords);
    const failure =
      this.#failure ??
      (heap
        ? outOfMemory(this.#workerMb, this.#workerMb)
        : new Refusal('unavailable', { what: 'a worker', reason: `it ended with its work unfinished (${how})` }));
    this.#onGone();
    this.#rested?.();
    this.#settle((job) => job.reject(failure));
  }

  #settle(how: (waiting: Waiting) => void): void {
    const waiting = this.#waiting;
    if (waiting === null) return;
    this.#waiting = null;
    clearTimeout(waiting.timer);
    how(waiting);
  }
}

function outOfMemory(limit: number, found: number): Refusal {
  return new Refusal('too-large', { what: 'memory for one job', limit, found: Math.ceil(found), unit: 'MB' });
}

/** Where the system does not let it, the worker only competes as others do. */
function standBack(pid: number, niceness: number): void {
  try {
    setPriority(pid, niceness);
  } catch {
    // gone already, or not allowed
  }
}
