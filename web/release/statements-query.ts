import { queryOptions } from '@tanstack/react-query';
import { readAll } from '../call/call.ts';
import type { KeptStatement } from '../signing/kept-statement.ts';

/** Everything that was stated on a title, in the order of the log. */
export const statementsQuery = (titleId: string) =>
  queryOptions({
    queryKey: ['title', titleId, 'statements'],
    queryFn: ({ signal }) => readAll<KeptStatement>(`/api/titles/${titleId}/statements`, signal),
  });
