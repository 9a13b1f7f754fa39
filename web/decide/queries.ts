import { queryOptions } from '@tanstack/react-query';
import type { Account, Decision, FindingKind } from '../../src/model/index.ts';
import { sha256Hex } from '../../src/sealing/index.ts';
import type { Weight } from '../call/answers.ts';
import { read, readAll, readItems } from '../call/call.ts';
import { readBytes } from '../call/read-bytes.ts';

/** What one side says of a finding. */
export interface Word {
  readonly decision: Decision;
  readonly account: Account;
  readonly statement: string;
  readonly at: string;
}

/** Where both sides stand on a finding. */
export interface Ruling {
  readonly state: 'none' | 'one-side' | 'conflicting' | 'settled';
  readonly publisher: Word | null;
  readonly printer: Word | null;
}

/** A finding of a file, with its history and what was ruled. */
export interface FoundFinding {
  readonly id: string;
  readonly mark: string;
  readonly weight: Weight;
  readonly finding: {
    readonly kind: FindingKind;
    readonly dummyPage: number | null;
    readonly revisionPage: number | null;
    readonly says: string;
  };
  readonly firstFile: string;
  readonly states: readonly {
    readonly file: string;
    readonly state: 'there' | 'changed' | 'gone' | 'not-compared';
    readonly mark: string | null;
  }[];
  readonly ruling: Ruling;
  readonly remarks: number;
}

/** A file's newest report, with its findings. */
export interface FileFindings {
  readonly dummy: string;
  readonly report: string;
  readonly verdict: 'match' | 'differs';
  readonly items: readonly FoundFinding[];
}

/** What a file's newest report found. */
export const findingsQuery = (titleId: string, fileId: string) =>
  queryOptions({
    queryKey: ['title', titleId, 'file', fileId, 'findings'],
    queryFn: async ({ signal }): Promise<FileFindings> => {
      const path = `/api/files/${fileId}/findings`;
      const { dummy, report, verdict } = await read<Omit<FileFindings, 'items'>>(`${path}?most=1`, signal);
      return { dummy, report, verdict, items: await readAll<FoundFinding>(path, signal) };
    },
  });

/** A picture that shows a finding. */
export interface Exhibit {
  readonly mark: string;
  readonly side: 'dummy' | 'revision' | 'difference';
  readonly widthPx: number;
  readonly heightPx: number;
  readonly picture: string;
}

/** The pictures of a report. */
export const exhibitsQuery = (titleId: string, reportId: string) =>
  queryOptions({
    queryKey: ['title', titleId, 'report', reportId, 'exhibits'],
    queryFn: ({ signal }) => readItems<Exhibit>(`/api/reports/${reportId}/exhibits`, signal),
  });

/** A report as this browser read it itself: its hash, and its sentences by mark. */
export interface ReadReport {
  readonly sha256: string;
  readonly says: ReadonlyMap<string, string>;
}

/** Reads a report and hashes its exact bytes. It never changes. */
export const reportQuery = (titleId: string, reportId: string) =>
  queryOptions({
    queryKey: ['title', titleId, 'report', reportId],
    queryFn: async ({ signal }): Promise<ReadReport> => {
      const bytes = await readBytes(`/api/reports/${reportId}`, signal);
      const { findings } = JSON.parse(new TextDecoder().decode(bytes)) as {
        readonly findings: readonly { readonly id: string; readonly says: string }[];
      };
      return { sha256: await sha256Hex(bytes), says: new Map(findings.map(({ id, says }) => [id, says])) };
    },
    staleTime: Infinity,
  });

/** What somebody said about a finding. */
export interface Remark {
  readonly logIndex: number;
  readonly text: string;
  readonly by: { readonly id: string; readonly name: string; readonly party: string };
  readonly at: string;
}

/** The conversation about a finding. */
export const remarksQuery = (titleId: string, findingId: string) =>
  queryOptions({
    queryKey: ['title', titleId, 'finding', findingId, 'remarks'],
    queryFn: ({ signal }) => readItems<Remark>(`/api/findings/${findingId}/remarks`, signal),
  });
