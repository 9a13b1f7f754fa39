import type { FileKind } from '../call/answers.ts';
import type { FoldingTold } from './folding.ts';

/** What is told of a file that is sent. */
export interface ToldOfFile {
  readonly kind: FileKind;
  readonly remark: string;
  /** As “12-13, 20”; empty where the file is the whole book. */
  readonly pages: string;
  /** Of sheets, what goes along of how they fold. */
  readonly folding: FoldingTold;
}

/** Where a file on its way is; `unattached`: begun before the page was loaded, and waiting for the same file again. */
export type SendingState = 'waiting' | 'sending' | 'paused' | 'interrupted' | 'refused' | 'arrived' | 'unattached';

/** A file on its way to a part. */
export interface Sending extends ToldOfFile {
  readonly id: string;
  readonly titleId: string;
  readonly partId: string;
  readonly name: string;
  readonly bytes: number;
  /** By which the same file is known again, with its name and size. */
  readonly modifiedMs: number;
  readonly state: SendingState;
  readonly sent: number;
  /** Bytes a second, smoothed; 0 where nothing can be said yet. */
  readonly perSecond: number;
  /** Of the upload at the service; null before it was begun. */
  readonly url: string | null;
  /** The file that it became. */
  readonly fileId: string | null;
  /** Why it was refused. */
  readonly error: unknown;
}

/** Whether a file is the one that was begun. */
export function isSameFile(sending: Sending, file: File): boolean {
  return sending.name === file.name && sending.bytes === file.size && sending.modifiedMs === file.lastModified;
}

/** Seconds until all of it is there; null where nothing can be said. */
export function secondsLeft({ state, bytes, sent, perSecond }: Sending): number | null {
  return state === 'sending' && perSecond > 0 ? (bytes - sent) / perSecond : null;
}
