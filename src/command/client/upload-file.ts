import { createHash } from 'node:crypto';
import { mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { DetailedError, Upload } from 'tus-js-client';
import type { SaidFolding } from '../../model/index.ts';
import { Refusal } from '../../model/index.ts';
import { problemIn, type ArchiveClient } from './ask-server.ts';
import type { SentBytes } from './sent-bytes.ts';

/** What is said of a file that is sent. */
export interface FileToSend {
  readonly source: SentBytes;
  readonly partId: string;
  readonly kind: 'dummy' | 'revision' | 'plates-input';
  readonly remark: string;
  /** “12-13, 20” where only these pages are supplied again; null for a whole file. */
  readonly pages: string | null;
  /** How sheets fold: by a plan that the part was given, or by rules; null where it is found from them. */
  readonly folding: SaidFolding | null;
}

/** How an upload is done. */
export interface Uploading {
  /** Where it is remembered what was begun, so that a later run goes on with it. */
  readonly stateFolder: string;
  readonly stop: AbortSignal;
  onProgress(this: void, sent: number, total: number): void;
  /** Before another try, in milliseconds; as many tries as there are. */
  readonly retryMs?: readonly number[];
}

/** Half a minute in all: longer breaks are for the next run, which goes on where this one stopped. */
const RETRY_MS = [0, 1000, 3000, 8000, 20_000];

/**
 * Sends a file in pieces and goes on after a break, also one of this program: what has arrived is not sent again. Its
 * hash is checked there.
 *
 * @returns the file's id in the archive
 * @throws {Refusal} unavailable: the archive cannot be reached; what was sent is kept there
 * @throws {Refusal} as `askServer`
 */
export async function uploadFile(client: ArchiveClient, file: FileToSend, how: Uploading): Promise<string> {
  const { name, bytes, sha256 } = file.source;
  const folding = file.folding === null ? '' : ` ${Object.values(file.folding).join(' ')}`;
  const memory = memoryOf(
    how.stateFolder,
    `${client.server.url} ${file.partId} ${file.kind} ${file.pages} ${sha256}${folding}`,
  );
  const metadata = {
    part: file.partId,
    kind: file.kind,
    filename: name,
    sha256,
    ...(file.remark === '' ? {} : { remark: file.remark }),
    ...(file.pages === null ? {} : { pages: file.pages }),
    ...file.folding,
  };
  const url = await send(client, { file, metadata, bytes, begun: await memory.read() }, how, (begun) =>
    memory.write(begun),
  );
  const { file: fileId } = await client.get<{ readonly file: string | null }>(new URL(url).pathname);
  await memory.forget();
  if (fileId === null) throw new Refusal('unavailable', { what: name, reason: 'it arrived, but became no file' });
  return fileId;
}

interface Sending {
  readonly file: FileToSend;
  readonly metadata: Readonly<Record<string, string>>;
  readonly bytes: number;
  readonly begun: string | null;
}

function send(
  { server }: ArchiveClient,
  { file, metadata, bytes, begun }: Sending,
  how: Uploading,
  remember: (url: string) => Promise<void>,
): Promise<string> {
  return new Promise((resolve, reject) => {
    // the library asks its reader for parts; its types only know what browsers have
    const upload: Upload = new Upload(Buffer.alloc(0), {
      fileReader: readerOf(file.source),
      endpoint: `${server.url}/api/uploads`,
      uploadUrl: begun,
      uploadSize: bytes,
      metadata,
      headers: { Authorization: `Bearer ${server.token}` },
      retryDelays: [...(how.retryMs ?? RETRY_MS)],
      onUploadUrlAvailable: () => {
        if (upload.url !== null) remember(upload.url).catch(reject);
      },
      onProgress: how.onProgress,
      onSuccess: () => resolve(upload.url ?? ''),
      onError: (error) => reject(refusalOf(error, server.url)),
    });
    const stop = (): void => {
      void upload.abort();
      reject(
        new Refusal('unavailable', {
          what: file.source.name,
          reason: 'stopped; what was sent is kept for the next run',
        }),
      );
    };
    if (how.stop.aborted) stop();
    else {
      how.stop.addEventListener('abort', stop, { once: true });
      upload.start();
    }
  });
}

function refusalOf(error: Error | DetailedError, url: string): Refusal {
  const answer = error instanceof DetailedError ? error.originalResponse : null;
  if (answer === null) return new Refusal('unavailable', { what: url, reason: 'it cannot be reached' }, error);
  return problemIn(answer.getBody(), `${answer.getStatus()}`, url);
}

/** How the library reads what is sent: streams that say how long they are. */
function readerOf(source: SentBytes) {
  return {
    openFile: () =>
      Promise.resolve({
        size: source.bytes,
        slice: (start: number, end: number) => {
          const to = Math.min(end, source.bytes);
          const value = Object.assign(source.slice(start, to), { size: to - start });
          return Promise.resolve({ value, done: to >= source.bytes });
        },
        close: () => undefined,
      }),
  };
}

/** Where an upload that was begun can be found again: one small file each, named by all that makes it this one. */
function memoryOf(folder: string, what: string) {
  const path = join(folder, `${createHash('sha256').update(what).digest('hex').slice(0, 32)}.upload`);
  return {
    read: (): Promise<string | null> => readFile(path, 'utf8').catch(() => null),
    async write(url: string): Promise<void> {
      await mkdir(folder, { recursive: true, mode: 0o700 });
      await writeFile(path, url, { mode: 0o600 });
    },
    forget: (): Promise<void> => rm(path, { force: true }),
  };
}
