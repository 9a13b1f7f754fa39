import { queryOptions } from '@tanstack/react-query';
import type { ReportSeparation, ReportSheets, ReportSide, SaidFolding } from '../../src/model/index.ts';
import { read } from '../call/call.ts';
import { troubleOf } from '../call/trouble.ts';

/** Who said something of how sheets fold, and when. */
interface Saying {
  readonly by: { readonly id: string; readonly name: string };
  readonly at: string;
}

/** The sheets of a plates input, as the service took them apart. */
export interface Sheets extends Pick<ReportSheets, 'plan' | 'binding' | 'located'> {
  readonly foldedBook: string;
  readonly foldingPlan: string;
  /** Of a plan that was found: who of the printer confirmed it; null where nobody did. */
  readonly confirmed: Saying | null;
  /** How they fold, as it was said after they were sent; the last one counts. */
  readonly saidAgain: readonly (Saying & { readonly folding: SaidFolding })[];
  /** Whether they were checked by what was said last. */
  readonly isCheckedSo: boolean;
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
