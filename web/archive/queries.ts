import { queryOptions } from '@tanstack/react-query';
import { parseBase64 } from '../../src/ledger/index.ts';
import { parseLogEntry } from '../../src/model/index.ts';
import type { LogEntry } from '../../src/model/index.ts';
import type { ArchiveState, Entry, Head, Party, Person, Stated, TimeStamp } from '../call/answers.ts';
import { read, readAll, readItems } from '../call/call.ts';

/** How the archive is now. */
export const archiveQuery = queryOptions({
  queryKey: ['archive'],
  queryFn: ({ signal }) => read<ArchiveState>('/api/archive', signal),
  refetchInterval: 15_000,
});

/** So often a reading of the whole archive is asked about while it goes on. */
const SCRUB_MS = 2000;

/** What the latest reading of the whole archive found. */
export interface Scrub {
  readonly isRunning: boolean;
  readonly begun: string | null;
  readonly ended: string | null;
  readonly found: {
    readonly isSound: boolean;
    readonly blobs: number;
    readonly bytes: number;
    readonly entries: number;
    readonly faults: number;
  } | null;
  readonly cause: string | null;
}

/** It, as it goes on. */
export const scrubQuery = queryOptions({
  queryKey: ['scrub'],
  queryFn: ({ signal }) => read<Scrub>('/api/archive/scrub', signal),
  refetchInterval: ({ state }) => (state.data?.isRunning === true ? SCRUB_MS : false),
});

/** The latest head of the log with its time-stamps. */
export const headQuery = queryOptions({
  queryKey: ['head'],
  queryFn: async ({ signal }) => {
    const head = await read<Head>('/api/log/head', signal);
    return { head, stamps: await readItems<TimeStamp>(`/api/log/heads/${head.size}/time-stamps`, signal) };
  },
});

/** A line of the record: what the log keeps, read from its exact bytes. */
export interface Line {
  readonly index: number;
  readonly leafHash: string;
  readonly entry: LogEntry;
  /** What was signed, in full sentences, where the entry is a statement. */
  readonly says: readonly string[];
}

/** Everything that the log has on a title, in its order. */
export const recordQuery = (titleId: string) =>
  queryOptions({
    queryKey: ['title', titleId, 'record'],
    queryFn: async ({ signal }): Promise<readonly Line[]> => {
      const entries = await readAll<Entry>(`/api/titles/${titleId}/log`, signal);
      const statements = await readAll<Stated>(`/api/titles/${titleId}/statements`, signal);
      const said = new Map(statements.map(({ logIndex, says }) => [logIndex, says]));
      return entries.map(({ index, leafHash, bytes }) => ({
        index,
        leafHash,
        entry: parseLogEntry(parseBase64(bytes, '/bytes')),
        says: said.get(index) ?? [],
      }));
    },
  });

/** Names of people whom one may know, by their ids. */
export type Names = ReadonlyMap<string, string>;

/** Whoever did what a record has, and the people and parties that one's own party knows: a record names them by id. */
export const namesQuery = (titleId: string) =>
  queryOptions({
    queryKey: ['title', titleId, 'names'],
    queryFn: async ({ signal }): Promise<Names> => {
      const actors = await readItems<Party>(`/api/titles/${titleId}/log/people`, signal);
      const people = await readItems<Person>('/api/people', signal);
      const parties = await readItems<Party>('/api/parties', signal);
      return new Map([...people, ...parties, ...actors].map(({ id, name }) => [id, name]));
    },
  });
