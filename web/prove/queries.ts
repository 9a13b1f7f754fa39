import { queryOptions } from '@tanstack/react-query';
import type { Account, FindingKind } from '../../src/model/index.ts';
import { read, readItems } from '../call/call.ts';

/** How often each account was named. */
export type AccountCounts = Readonly<Record<Account, number>>;

/** Settled findings by account. */
export interface Accounts {
  readonly lines: readonly {
    readonly part: string;
    readonly finding: string;
    readonly says: string;
    readonly account: Account;
    readonly file: string;
    readonly kind?: FindingKind;
    readonly page?: number | null;
  }[];
  readonly total: AccountCounts;
}

/** The accounts of a title, for the invoice. */
export const accountsQuery = (titleId: string) =>
  queryOptions({
    queryKey: ['title', titleId, 'accounts'],
    queryFn: ({ signal }) => read<Accounts>(`/api/titles/${titleId}/accounts`, signal),
  });

/** A page of a dummy in one file. */
export interface PageInFile {
  readonly file: string;
  readonly state: 'dummy' | 'same-content' | 'same-picture' | 'differs' | 'missing' | 'not-compared';
  readonly pageNumber: number | null;
  /** The address of its picture, without a width. */
  readonly picture: string | null;
}

/** What became of a page of a dummy in every later file. */
export const pageHistoryQuery = (titleId: string, dummyId: string, page: number) =>
  queryOptions({
    queryKey: ['title', titleId, 'file', dummyId, 'page', page, 'history'],
    queryFn: ({ signal }) => readItems<PageInFile>(`/api/files/${dummyId}/pages/${page}/history`, signal),
  });
