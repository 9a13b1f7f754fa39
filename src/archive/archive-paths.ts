import { join } from 'node:path';

/** Where the things of an archive lie in its folder. */
export function archivePaths(folder: string): {
  readonly blobs: string;
  readonly catalogue: string;
  readonly keys: string;
  readonly uploads: string;
  /** Results that cost time and can be made again. */
  readonly facts: string;
  /** What the latest reading of the whole archive came to. */
  readonly scrub: string;
  /** Locked by the process that serves the folder. */
  readonly lock: string;
  /** Says in a line which process that is. */
  readonly holder: string;
} {
  return {
    blobs: join(folder, 'blobs'),
    catalogue: join(folder, 'catalogue.sqlite'),
    keys: join(folder, 'keys'),
    uploads: join(folder, 'uploads'),
    facts: join(folder, 'facts'),
    scrub: join(folder, 'scrub.json'),
    lock: join(folder, 'service.lock'),
    holder: join(folder, 'service.holder'),
  };
}
