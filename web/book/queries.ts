import { queryOptions } from '@tanstack/react-query';
import type { Finding, Report } from '../../src/model/index.ts';
import type { Weight } from '../call/answers.ts';
import { read, readAll } from '../call/call.ts';

/** A page of the whole book that a file stands for. */
export interface BookPage {
  /** From 1. */
  readonly pageNumber: number;
  readonly contentHash: string | null;
  /** In mm. */
  readonly trimmed: { readonly width: number; readonly height: number } | null;
  readonly unreadable: string | null;
  /** The address of its picture, without a width; null: it cannot be drawn. */
  readonly picture: string | null;
}

/** A finding with the id that it keeps over files. */
export interface KnownFinding {
  readonly id: string;
  readonly mark: string;
  readonly weight: Weight;
  readonly finding: Finding;
}

/** A file held against its dummy. */
export interface Compared {
  /** The dummy's file. */
  readonly dummy: string;
  readonly report: string;
  readonly verdict: Report['verdict'];
  readonly findings: readonly KnownFinding[];
  /** Which page became which. */
  readonly pairs: Report['pages'];
}

/** The pages of a file. */
export const pagesQuery = (titleId: string, fileId: string) =>
  queryOptions({
    queryKey: ['title', titleId, 'file', fileId, 'pages'],
    queryFn: ({ signal }) => readAll<BookPage>(`/api/files/${fileId}/pages`, signal),
    staleTime: Infinity,
  });

/** The pages of a file as statements name them: of imposed sheets, their sides. */
export const signedPagesQuery = (titleId: string, fileId: string) =>
  queryOptions({
    queryKey: ['title', titleId, 'file', fileId, 'signed-pages'],
    queryFn: ({ signal }) => readAll<BookPage>(`/api/files/${fileId}/pages?as=signed`, signal),
    staleTime: Infinity,
  });

/** What a file's newest report says of it; null for a dummy, and where nothing was compared yet. */
export const comparedQuery = (titleId: string, fileId: string) =>
  queryOptions({
    queryKey: ['title', titleId, 'file', fileId, 'compared'],
    queryFn: async ({ signal }): Promise<Compared | null> => {
      const path = `/api/files/${fileId}/findings`;
      const first = await read<Omit<Compared, 'findings' | 'pairs'>>(`${path}?most=1`, signal).catch(noneYet);
      if (first === null) return null;
      const findings = await readAll<KnownFinding>(path, signal);
      const { pages } = await read<Report>(`/api/reports/${first.report}`, signal);
      return { ...first, findings, pairs: pages };
    },
  });

function noneYet(error: unknown): null {
  if (error instanceof Error && 'kind' in error && error.kind === 'out-of-step') return null;
  throw error;
}

/** Widths in pixels in which pages are drawn; another width would be another address of the same picture. */
const WIDTHS = [160, 320, 640, 1280, 2560, 3840] as const;

/** The widest picture of a page that there is, in pixels. */
export const WIDEST = WIDTHS[WIDTHS.length - 1] ?? 0;

/** A part of a page that is drawn for itself is so long and high, in mm: two inches. */
export const PART_MM = 50.8;

/** Where a part of a page is, so near that each pixel of its pictures is seen; counted from 0 from the top left. */
export function partOf({ picture }: Pick<BookPage, 'picture'>, column: number, row: number): string {
  return `${picture ?? ''}&part=${column},${row}`;
}

/**
 * Where a page's picture is in the smallest width of at least so many pixels. The address names what the page shows and
 * is kept by the browser for good.
 */
export function pictureOf({ picture }: Pick<BookPage, 'picture'>, width: number): string {
  return `${picture ?? ''}&width=${WIDTHS.find((one) => one >= width) ?? WIDEST}`;
}
