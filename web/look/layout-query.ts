import { queryOptions } from '@tanstack/react-query';
import type { Box } from '../../src/model/index.ts';
import { read } from '../call/call.ts';

/** Where what is on a page lies, in mm from the corner of its trim. */
export interface PageLayout {
  readonly boxes: { readonly media: Box; readonly crop: Box; readonly bleed: Box; readonly trim: Box };
  readonly pictures: readonly { readonly window: Box; readonly placed: Box; readonly effectivePpi: number }[];
}

/** The layout of a page of a file. It never changes. */
export const layoutQuery = (titleId: string, fileId: string, pageNumber: number) =>
  queryOptions({
    queryKey: ['title', titleId, 'file', fileId, 'page', pageNumber, 'layout'],
    queryFn: ({ signal }) => read<PageLayout>(`/api/files/${fileId}/pages/${pageNumber}/layout`, signal),
    staleTime: Infinity,
  });
