import { DetailedError, Upload } from 'tus-js-client';
import { read } from '../call/call.ts';
import { Trouble, troubleIn, troubleOf } from '../call/trouble.ts';
import { waitForSession } from '../session/renewing.ts';
import { rateMeter } from './rate.ts';
import type { Sending } from './sending.ts';

/** A file that goes over the line. */
export interface Transfer {
  stop(): Promise<void>;
}

/** Acknowledged by the service a piece at a time, so that little is sent twice after a break. */
const PIECE_BYTES = 8 * 2 ** 20;
/** Progress is told so often at most. */
const TELL_MS = 200;
/** Answers after which it is worth going on: a lock, a limit of requests, a service that restarts. */
const PASSING = [409, 423, 429, 500, 502, 503, 504];

/**
 * Sends a file by the tus protocol, from where the service has it.
 *
 * @param tell  hears what changes; after `arrived`, `refused` or `interrupted` nothing more comes
 */
export function beginTransfer(sending: Sending, file: File, tell: (told: Partial<Sending>) => void): Transfer {
  const { partId, kind, name, remark, pages, folding, sent } = sending;
  const meter = rateMeter(performance.now(), sent);
  let toldAt = 0;
  let isStopped = false;
  const upload = new Upload(file, {
    endpoint: '/api/uploads',
    uploadUrl: sending.url,
    chunkSize: PIECE_BYTES,
    retryDelays: null,
    storeFingerprintForResuming: false,
    metadata: { part: partId, kind, filename: name, remark, ...(pages === '' ? {} : { pages }), ...folding },
    onUploadUrlAvailable: () => tell({ url: upload.url }),
    onProgress: (bytes) => {
      const at = performance.now();
      const perSecond = meter.at(at, bytes);
      if (at - toldAt < TELL_MS || isStopped) return;
      toldAt = at;
      tell({ sent: bytes, perSecond });
    },
    onSuccess: () => void arrived(upload.url, file.size).then(tell),
    onError: (error) => {
      if (isStopped) return;
      void settled(error).then((outcome) => {
        if (isStopped) return;
        if (outcome === 'again') upload.start();
        else tell(outcome);
      });
    },
  });
  upload.start();
  return {
    async stop() {
      isStopped = true;
      await upload.abort();
    },
  };
}

/** With its last byte it became a file before the service answered; which one, it tells when it is asked. */
async function arrived(url: string | null, bytes: number): Promise<Partial<Sending>> {
  const done = { state: 'arrived', sent: bytes, perSecond: 0 } as const;
  try {
    const { file } = await read<{ readonly file: string | null }>(new URL(url ?? '', location.href).pathname);
    return { ...done, fileId: file };
  } catch {
    return { ...done, fileId: null };
  }
}

/** What becomes of a transfer that stopped: gone on with at once, later, or not. */
async function settled(error: Error): Promise<Partial<Sending> | 'again'> {
  const answer = error instanceof DetailedError ? error.originalResponse : null;
  const status = answer?.getStatus() ?? 0;
  if (status === 401 && (await waitForSession())) return 'again';
  if (status === 0 || PASSING.includes(status)) return { state: 'interrupted', perSecond: 0 };
  const body = answer?.getBody() ?? '';
  const told =
    body === ''
      ? new Trouble('fault', troubleOf(error).message, status)
      : await troubleIn(new Response(body, { status }));
  return { state: 'refused', perSecond: 0, error: told };
}
