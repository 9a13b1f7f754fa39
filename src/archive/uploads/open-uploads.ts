import { mkdir, open, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { Refusal } from '../../model/index.ts';
import type { Actor } from '../actor.ts';
import { asDiskRefusal } from '../blobs/disk-refusal.ts';
import type { ToldOfUpload, Upload } from '../catalogue/index.ts';
import type { Archive } from '../open-archive.ts';
import { requireFolding } from '../sheets/require-folding.ts';
import { requirePart } from '../standing.ts';
import { syncFolder } from '../sync-folder.ts';
import { finishUpload } from './finish-upload.ts';
import { growFile } from './growing-file.ts';
import { isFile } from './is-file.ts';
import type { RunningHash } from './growing-file.ts';

/** After so long without a byte nobody comes back. */
const PATIENCE_MS = 14 * 86_400_000;

/** Uploads that go on where they stopped. A sender sees their own only; to everybody else there is no such upload. */
export interface GrowingUploads {
  /**
   * @throws {Refusal} not-found, not-allowed: as `requirePart` for sending files
   * @throws {Refusal} malformed, not-found: as `requireFolding`
   * @throws {Refusal} too-large: more than is taken
   */
  begin(actor: Actor, partId: string, told: ToldOfUpload, bytes: number): Promise<Upload>;
  /**
   * Where whoever sends it has to go on: a line that still hangs is cut off first, so that what came over it counts.
   *
   * @throws {Refusal} as `look`
   */
  comeBack(actor: Actor, id: string): Promise<Upload>;
  /** Where it stands. One that is whole and that a kill kept from becoming a file becomes one now. */
  look(actor: Actor, id: string): Promise<Upload>;
  /**
   * Takes bytes from an offset on; whoever still sends to it is cut off first. With the last byte it becomes a file.
   *
   * @throws {Refusal} not-found: none of this person
   * @throws {Refusal} out-of-step: not the offset at which it stands, or it takes nothing any more
   * @throws {Refusal} too-large: more bytes than were announced
   * @throws {Refusal} unreadable: not the bytes whose hash was announced; it is refused for good
   * @throws {Refusal} as `receiveFile`
   */
  append(actor: Actor, id: string, offset: number, stream: AsyncIterable<Uint8Array>): Promise<Upload>;
  /** Ends it; its bytes are thrown away. @throws {Refusal} not-found, out-of-step: as `append` */
  giveUp(actor: Actor, id: string): Promise<void>;
  /** Uploads that bytes come in for at this moment. */
  inHand(): number;
}

/** What uploads are opened with. */
export interface UploadsOrder {
  readonly archive: Pick<Archive, 'blobs' | 'catalogue' | 'identity' | 'arrivals'>;
  /** On the disk of the blobs. */
  readonly folder: string;
  readonly mostBytes: number;
  readonly now: () => number;
}

interface InHand {
  readonly stop: AbortController;
  readonly ended: Promise<unknown>;
}

/**
 * Opens the uploads of an archive. What was whole at a kill becomes a file; what nobody came back for is given up, and so
 * is what has no bytes here, because the archive was restored from a copy.
 *
 * @throws {Refusal} malformed, not-found, out-of-step, too-large: as `GrowingUploads` says of each of its functions
 */
export async function openUploads({ archive, folder, mostBytes, now }: UploadsOrder): Promise<GrowingUploads> {
  const { uploads } = archive.catalogue;
  await mkdir(folder, { recursive: true, mode: 0o700 });
  const hashes = new Map<string, RunningHash>();
  const inHand = new Map<string, InHand>();
  const pathOf = (id: string): string => join(folder, id);
  const finish = (upload: Upload): Promise<Upload> => finishUpload(archive, upload, pathOf(upload.id), now());

  for (const upload of await uploads.open()) {
    const { id, state, changedMs } = upload;
    if (state === 'arriving' && !(await isFile(pathOf(id)))) await letGo(id);
    // What is refused now is noted with the upload; its sender reads it there.
    else if (isAllThere(upload)) await alone(id, (signal) => goOn(upload, signal)).catch(refusalOnly);
    else if (changedMs < now() - PATIENCE_MS) await letGo(id);
  }

  async function letGo(id: string): Promise<void> {
    await uploads.giveUp(id, now());
    hashes.delete(id);
    archive.arrivals.forget(pathOf(id));
    await rm(pathOf(id), { force: true });
  }

  async function mine({ personId }: Actor, id: string): Promise<Upload> {
    const upload = await uploads.get(id);
    if (upload?.personId !== personId) throw new Refusal('not-found', { what: 'upload' });
    return upload;
  }

  /** One at a time: the sender who came back is right, the line that hangs is not. */
  async function alone<T>(id: string, work: (signal: AbortSignal) => Promise<T>): Promise<T> {
    for (let other = inHand.get(id); other !== undefined; other = inHand.get(id)) {
      other.stop.abort();
      await other.ended;
    }
    const stop = new AbortController();
    const working = work(stop.signal);
    const ended = working.catch(() => undefined).finally(() => inHand.delete(id));
    inHand.set(id, { stop, ended });
    return working;
  }

  async function append(upload: Upload, stream: AsyncIterable<Uint8Array>, signal: AbortSignal): Promise<Upload> {
    const { id, arrived, bytes } = upload;
    const running = await growFile(within(stream, bytes - arrived, signal), {
      path: pathOf(id),
      from: arrived,
      running: hashes.get(id) ?? null,
      onDisk: (sure) => uploads.arrived(id, sure, now()),
      onWritten: (written) => archive.arrivals.wrote(pathOf(id), written),
      signal,
    });
    hashes.set(id, running);
    if (running.bytes < bytes) return { ...upload, arrived: running.bytes };
    hashes.delete(id);
    const sha256 = running.hash.digest('hex');
    await uploads.whole(id, sha256, now());
    return finish({ ...upload, arrived: bytes, state: 'whole', sha256 });
  }

  /** After a kill between its last byte and its file. */
  function goOn(upload: Upload, signal: AbortSignal): Promise<Upload> {
    return upload.state === 'whole' ? finish(upload) : append(upload, nothing(), signal);
  }

  return {
    async begin(actor, partId, told, bytes) {
      await requirePart(archive.catalogue, actor, partId, 'send-files');
      const { kind, folding = null, replaces } = told;
      await requireFolding(archive.catalogue, { partId, kind, folding }, replaces === null);
      if (bytes > mostBytes) {
        throw new Refusal('too-large', { what: 'the file', limit: mostBytes, found: bytes, unit: 'bytes' });
      }
      const upload = await uploads.begin({ personId: actor.personId, partId, told, bytes, at: now() });
      const file = await open(pathOf(upload.id), 'wx', 0o600).catch((error: unknown) => {
        throw asDiskRefusal(error, 'what arrives');
      });
      await file.close();
      await syncFolder(folder);
      return bytes === 0 ? alone(upload.id, (signal) => append(upload, nothing(), signal)) : upload;
    },
    async comeBack(actor, id) {
      await mine(actor, id);
      return alone(id, async (signal) => {
        const upload = await mine(actor, id);
        return isAllThere(upload) ? goOn(upload, signal) : upload;
      });
    },
    async look(actor, id) {
      const upload = await mine(actor, id);
      return isAllThere(upload) && !inHand.has(id) ? alone(id, (signal) => goOn(upload, signal)) : upload;
    },
    async append(actor, id, offset, stream) {
      await mine(actor, id);
      return alone(id, async (signal) => {
        const upload = await mine(actor, id);
        const current = upload.state === 'arriving' ? `at byte ${upload.arrived}` : upload.state;
        if (upload.state !== 'arriving' || upload.arrived !== offset) {
          throw new Refusal('out-of-step', { what: 'the upload', named: `at byte ${offset}`, current });
        }
        return append(upload, stream, signal);
      });
    },
    async giveUp(actor, id) {
      await mine(actor, id);
      return alone(id, async () => {
        const { state } = await mine(actor, id);
        if (state !== 'arriving') {
          throw new Refusal('out-of-step', { what: 'the upload', named: 'arriving', current: state });
        }
        await letGo(id);
      });
    },
    inHand: () => inHand.size,
  };
}

/** Every byte is on disk, and it is no file yet. */
function isAllThere({ state, arrived, bytes }: Upload): boolean {
  return state === 'whole' || (state === 'arriving' && arrived === bytes);
}

/** Ends a stream when it is told to, also while it waits for a piece, and refuses what is more than was announced. */
async function* within(
  stream: AsyncIterable<Uint8Array>,
  most: number,
  signal: AbortSignal,
): AsyncGenerator<Uint8Array> {
  const pieces = stream[Symbol.asyncIterator]();
  let wake: (nothingMore: null) => void = () => undefined;
  signal.addEventListener('abort', () => wake(null), { once: true });
  let left = most;
  try {
    for (;;) {
      // No race of promises: the one that lasts would keep a note of every piece.
      const next = await new Promise<IteratorResult<Uint8Array> | null>((done, fail) => {
        wake = done;
        if (signal.aborted) done(null);
        else pieces.next().then(done, fail);
      });
      if (next === null || next.done === true) return;
      left -= next.value.byteLength;
      if (left < 0) {
        throw new Refusal('too-large', {
          what: 'the rest of the file',
          limit: most,
          found: most - left,
          unit: 'bytes',
        });
      }
      yield next.value;
    }
  } finally {
    // Not waited for: a line that hangs does not answer.
    void pieces.return?.();
  }
}

async function* nothing(): AsyncGenerator<Uint8Array> {
  // An empty file has no pieces.
}

function refusalOnly(error: unknown): void {
  if (!(error instanceof Refusal)) throw error;
}
