import { queryOptions } from '@tanstack/react-query';
import type { Member, Seer, Token } from '../call/answers.ts';
import { readItems } from '../call/call.ts';

/** The people of one's own party. */
export const membersQuery = queryOptions({
  queryKey: ['people'],
  queryFn: ({ signal }) => readItems<Member>('/api/people', signal),
});

/** Who sees a title. */
export const sightQuery = (titleId: string) =>
  queryOptions({
    queryKey: ['title', titleId, 'sight'],
    queryFn: ({ signal }) => readItems<Seer>(`/api/titles/${titleId}/sight`, signal),
  });

/** One's own tokens for machines. */
export const tokensQuery = queryOptions({
  queryKey: ['tokens'],
  queryFn: ({ signal }) => readItems<Token>('/api/tokens', signal),
});
