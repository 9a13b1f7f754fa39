import type { Limits } from '../../model/index.ts';
import type { CopyOrder, UnsealedCopyOrder } from './copy-order.ts';
import type { SealPlace } from './seal-file.ts';

/** Where a process that makes a copy finds the file and leaves the copy. */
interface CopyPaths {
  readonly path: string;
  readonly to: string;
  readonly limits: Limits;
}

/** What such a process is asked for. It never has the archive's key. */
export type CopyJob = CopyPaths &
  (
    | { readonly copy: 'signed'; readonly order: Omit<UnsealedCopyOrder, 'pdf'> }
    | { readonly copy: 'print'; readonly order: Omit<CopyOrder, 'pdf'> }
  );

/** What it answers with. */
export interface CopyDone {
  /** Of the copy. */
  readonly bytes: number;
  readonly seal: SealPlace | null;
}
