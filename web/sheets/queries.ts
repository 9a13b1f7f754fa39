import { queryOptions } from '@tanstack/react-query';
import type { ReportSeparation, ReportSheets, ReportSide } from '../../src/model/index.ts';
import { read } from '../call/call.ts';
import { troubleOf } from '../call/trouble.ts';

/** The sheets of a plates input, as the service took them apart. */
export interface Sheets extends Pick<ReportSheets, 'plan' | 'binding' | 'located'> {
  readonly foldedBook: string;
  readonly foldingPlan: string;
  readonly sides: readonly (ReportSide & { readonly contentHash: string | null; readonly picture: string | null })[];
  /** Where sides came as one plate for each ink: every plate. */
  readonly separations: readonly ReportSeparation[] | null;
}

/** How a file was taken apart; null for one that is no sheets, or was not compared yet. */
export const sheetsQuery = (titleId: string, fileId: string) =>
  queryOptions({
    queryKey: ['title', titleId, 'file', fileId, 'sheets'],
    queryFn: async ({ signal }): Promise<Sheets | null> => {
      try {
        return await read<Sheets>(`/api/files/${fileId}/sheets`, signal);
      } catch (error) {
        if (troubleOf(error).kind === 'not-found') return null;
        throw error;
      }
    },
  });
