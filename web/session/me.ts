import { queryOptions, useSuspenseQuery } from '@tanstack/react-query';
import { call } from '../call/call.ts';
import type { Me, Right } from '../call/answers.ts';
import { Trouble } from '../call/trouble.ts';

/** Who is signed in; null where nobody is. */
export const meQuery = queryOptions({
  queryKey: ['me'],
  queryFn: async ({ signal }): Promise<Me | null> => {
    try {
      return (await call<Me>('GET', '/api/me', { signal, isRenewing: false })).value;
    } catch (error) {
      if (error instanceof Trouble && error.kind === 'unidentified') return null;
      throw error;
    }
  },
  staleTime: Infinity,
});

/** Who is signed in, on a page that is only for those who are. */
export function useMe(): Me {
  const { data } = useSuspenseQuery(meQuery);
  if (data === null) throw new Trouble('unidentified', 'Nobody is signed in.', 401);
  return data;
}

/** Whether whoever is signed in has a right. */
export function useMay(right: Right): boolean {
  return useMe().person.rights.includes(right);
}
