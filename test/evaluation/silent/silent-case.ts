import type { Store } from '../material/store.ts';

export interface FilePair {
  readonly dummyPath: string;
  readonly revisionPath: string;
}

/** An unchanged book prepared another way: nothing may be raised. */
export interface SilentCase {
  readonly name: string;
  /** What was done, by which tool. */
  readonly done: string;
  /** Why nobody wants to hear of it. */
  readonly why: string;
  /** How many pages it has. */
  readonly pages: number;
  make(store: Store): Promise<FilePair>;
}
