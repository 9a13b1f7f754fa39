import { queryOptions } from '@tanstack/react-query';
import type { Checking, FindingsPiece, FirstFinding, PartState, SentFile } from '../call/answers.ts';
import { read, readAll, readItems } from '../call/call.ts';

/** Every file of a part, in order of arrival. Keys begin with the title, so that its news refresh all of it. */
export const filesQuery = (titleId: string, partId: string) =>
  queryOptions({
    queryKey: ['title', titleId, 'part', partId, 'files'],
    queryFn: ({ signal }) => readItems<SentFile>(`/api/parts/${partId}/files`, signal),
  });

/** A file as it was sent. */
export const fileQuery = (titleId: string, fileId: string) =>
  queryOptions({
    queryKey: ['title', titleId, 'file', fileId],
    queryFn: ({ signal }) => read<SentFile>(`/api/files/${fileId}`, signal),
  });

/** How a part stands: dummies, signatures, releases. */
export const partStateQuery = (titleId: string, partId: string) =>
  queryOptions({
    queryKey: ['title', titleId, 'part', partId, 'state'],
    queryFn: ({ signal }) => read<PartState>(`/api/parts/${partId}/state`, signal),
  });

/** How far the work on a file is; news of progress are written into it. */
export const checkingQuery = (titleId: string, fileId: string) =>
  queryOptions({
    queryKey: ['title', titleId, 'file', fileId, 'checking'],
    queryFn: ({ signal }) => read<Checking>(`/api/files/${fileId}/checking`, signal),
  });

/** What the keys of first findings begin with. */
export const FIRST_FINDINGS = ['first-findings'] as const;

/** The first findings of a file as news told them; never asked for: they come with the line to the title. */
export const firstFindingsQuery = (fileId: string) =>
  queryOptions({
    queryKey: [...FIRST_FINDINGS, fileId],
    queryFn: (): readonly FirstFinding[] => [],
    staleTime: Infinity,
  });

/** What a file's newest report says, in short; only of a file that was compared. */
export const verdictQuery = (titleId: string, fileId: string) =>
  queryOptions({
    queryKey: ['title', titleId, 'file', fileId, 'verdict'],
    queryFn: async ({ signal }) => {
      const path = `/api/files/${fileId}/findings`;
      const { verdict } = await read<FindingsPiece>(`${path}?most=1`, signal);
      return { verdict, items: await readAll<FindingsPiece['items'][number]>(path, signal) };
    },
  });
