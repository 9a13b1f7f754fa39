import { queryOptions } from '@tanstack/react-query';
import type { Party, TitleOnDesk, WholeTitle } from '../call/answers.ts';
import { call, readAll, readItems } from '../call/call.ts';

/** So often the desk is looked at again: no news come from all titles at once. */
const DESK_MS = 30_000;

/** Every title that one sees, the newest first, with where its parts stand and what waits. */
export const deskQuery = queryOptions({
  queryKey: ['desk'],
  queryFn: ({ signal }) => readAll<TitleOnDesk>('/api/desk', signal),
  refetchInterval: DESK_MS,
});

/** A title with its parts, and the name of its state for whoever changes it. */
export const titleQuery = (titleId: string) =>
  queryOptions({
    queryKey: ['title', titleId],
    queryFn: ({ signal }) => call<WholeTitle>('GET', `/api/titles/${titleId}`, { signal }),
  });

/** The parties that one's own knows. */
export const partiesQuery = queryOptions({
  queryKey: ['parties'],
  queryFn: ({ signal }) => readItems<Party>('/api/parties', signal),
});
