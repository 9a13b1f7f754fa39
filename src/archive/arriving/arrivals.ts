import { closeSync, openSync } from 'node:fs';
import { stat } from 'node:fs/promises';
import { Worker } from 'node:worker_threads';
import type { ArrivedFile, HashedData } from '../../reading/arriving/index.ts';
import type { ToReadBehind, WasReadBehind } from './read-behind.ts';

/**
 * Files that are read back from disk while they arrive, so that with the last byte they are as good as checked, and what
 * their long data hash to is known before anybody opens them.
 */
export interface Arrivals {
  /** So many bytes from its beginning are written of the file at a path; fewer than before: the rest was cut off. */
  wrote(path: string, bytes: number): void;
  /** The file that comes in most slowly of those that come and are worth it; null: there is none. */
  slowest(): Coming | null;
  /** All of it is written, and it is kept as a blob now. */
  settled(path: string, blob: { readonly sha256: string; readonly bytes: number }): void;
  /** It came to nothing; after `settled` this says nothing any more. */
  forget(path: string): void;
  /**
   * Whether the blob at a path was read back while it arrived, hashed to its name, and has not been written to since; said
   * once, and soon after it arrived. Otherwise it is to be checked.
   */
  holds(sha256: string, path: string): Promise<boolean>;
  /** What is known of the data of a blob of which `holds` was true; none of those that arrived long before. */
  dataOf(sha256: string): readonly HashedData[];
  close(): void;
}

/** A file that comes in. */
export interface Coming {
  /** Of it, so far. */
  readonly bytes: number;
  /** Since it began; infinite until something more was said of it. */
  readonly bytesASecond: number;
}

/** Nothing is read back. */
export const NO_ARRIVALS: Arrivals = {
  wrote: () => undefined,
  slowest: () => null,
  settled: () => undefined,
  forget: () => undefined,
  holds: () => Promise.resolve(false),
  dataOf: () => [],
  close: () => undefined,
};

/** Less than this is hashed as quickly when it is asked for. */
const STEP_BYTES = 4 * 2 ** 20;
/** Whoever lends it later reads it again. */
const FRESH_MS = 120_000;
const MOST_KEPT = 8;
/** A file of which nothing more came for so long has stopped on its way. */
const STOPPED_MS = 15_000;
/** Open at a time: uploads that stopped on their way may lie there for weeks. */
const MOST_ARRIVING = 32;

interface Arrived {
  readonly read: Promise<ArrivedFile | null>;
  readonly atMs: number;
}

interface Arriving {
  readonly descriptor: number;
  readonly begunAtMs: number;
  /** By the time it began. */
  readonly atFirst: number;
  /** As it was last said, and when. */
  bytes: number;
  saidAtMs: number;
}

/** In bytes a second; of a file of which nothing more was said yet, none. */
function rateOf({ begunAtMs, atFirst, bytes }: Arriving): number {
  return bytes === atFirst ? Infinity : (1000 * (bytes - atFirst)) / (performance.now() - begunAtMs);
}

/** Reads behind in a thread of its own, which begins with the first file that is worth it. */
export function readArrivals(): Arrivals {
  let thread: Thread | null = null;
  const arriving = new Map<string, Arriving>();
  const arrived = new Map<string, Arrived>();
  const data = new Map<string, readonly HashedData[]>();
  const take = (path: string): Arriving | undefined => {
    const file = arriving.get(path);
    arriving.delete(path);
    return file;
  };
  return {
    wrote(path, bytes) {
      const before = arriving.get(path);
      if (bytes >= (before?.bytes ?? 0) && bytes < (before?.bytes ?? 0) + STEP_BYTES) return;
      thread ??= startThread();
      const file = before ?? begin(thread, path, bytes);
      if (file === null) return;
      const eldest = arriving.keys().next().value;
      if (before === undefined && arriving.size >= MOST_ARRIVING && eldest !== undefined) this.forget(eldest);
      [file.bytes, file.saidAtMs] = [bytes, performance.now()];
      arriving.set(path, file);
      thread.tell({ descriptor: file.descriptor, bytes });
    },
    slowest() {
      const coming = [...arriving.values()].filter(({ saidAtMs }) => performance.now() - saidAtMs < STOPPED_MS);
      const rates = coming.map((file) => ({ bytes: file.bytes, bytesASecond: rateOf(file) }));
      return rates.sort((one, other) => one.bytesASecond - other.bytesASecond)[0] ?? null;
    },
    settled(path, { sha256, bytes }) {
      const file = take(path);
      if (file === undefined || thread === null) return;
      keep(arrived, sha256, { read: thread.ask(file.descriptor, bytes), atMs: performance.now() });
    },
    forget(path) {
      const file = take(path);
      if (file !== undefined) thread?.tell({ descriptor: file.descriptor, bytes: null });
    },
    async holds(sha256, path) {
      const file = arrived.get(sha256);
      arrived.delete(sha256);
      if (file === undefined || performance.now() - file.atMs > FRESH_MS) return false;
      const read = await file.read;
      if (read?.sha256 !== sha256) return false;
      const found = await stat(path).catch(() => null);
      if (found?.size !== read.bytes || found.ino !== read.inode || found.mtimeMs !== read.changedMs) return false;
      keep(data, sha256, read.data);
      return true;
    },
    dataOf: (sha256) => data.get(sha256) ?? [],
    close: () => thread?.end(),
  };
}

/** It is opened here: by the time the thread comes to it, it may bear another name. Null where that fails. */
function begin(thread: Thread, path: string, bytes: number): Arriving | null {
  try {
    const descriptor = thread.take(openSync(path, 'r'));
    const now = performance.now();
    return { descriptor, begunAtMs: now, atFirst: bytes, bytes, saidAtMs: now };
  } catch {
    return null;
  }
}

/** Keeps the latest few. */
function keep<T>(among: Map<string, T>, key: string, value: T): void {
  among.delete(key);
  among.set(key, value);
  const eldest = among.keys().next().value;
  if (among.size > MOST_KEPT && eldest !== undefined) among.delete(eldest);
}

interface Thread {
  /** Hands it a descriptor to be closed. @returns the same */
  take(descriptor: number): number;
  tell(what: ToReadBehind): void;
  /** Null where it could not be read. */
  ask(descriptor: number, bytes: number): Promise<ArrivedFile | null>;
  end(): void;
}

/** A thread that breaks answers null from then on: what it would have known is found out otherwise. */
function startThread(): Thread {
  const asked = new Map<number, (file: ArrivedFile | null) => void>();
  const open = new Set<number>();
  const worker = new Worker(new URL('./read-behind.ts', import.meta.url), {
    // descriptors are opened here and closed there
    trackUnmanagedFds: false,
  });
  let [lastId, isGone] = [0, false];
  const answer = (id: number, file: ArrivedFile | null): void => {
    asked.get(id)?.(file);
    asked.delete(id);
  };
  const gone = (): void => {
    isGone = true;
    for (const id of [...asked.keys()]) answer(id, null);
    open.forEach((descriptor) => closeSync(descriptor));
    open.clear();
  };
  const send = (what: ToReadBehind): void => {
    if (isGone) return;
    if (what.bytes === null || what.ask !== undefined) open.delete(what.descriptor);
    worker.postMessage(what);
  };
  worker.on('message', ({ id, file }: WasReadBehind) => answer(id, file));
  // said by its end, which follows
  worker.on('error', () => undefined);
  worker.on('exit', gone);
  worker.unref();
  return {
    take(descriptor) {
      if (isGone) closeSync(descriptor);
      else open.add(descriptor);
      return descriptor;
    },
    tell: send,
    ask(descriptor, bytes) {
      if (isGone) return Promise.resolve(null);
      const id = (lastId += 1);
      const answered = new Promise<ArrivedFile | null>((done) => asked.set(id, done));
      send({ descriptor, bytes, ask: id });
      return answered;
    },
    end() {
      isGone = true;
      void worker.terminate();
    },
  };
}
