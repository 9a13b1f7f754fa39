import type { SaidFolding, StageName } from '../../src/model/index.ts';

/** What the service answers with, by the names of its description at /api/openapi.json. Only what the pages read. */

export const PROBLEM_KINDS = [
  'malformed',
  'unidentified',
  'not-allowed',
  'not-found',
  'no-such-method',
  'out-of-step',
  'condition-failed',
  'unsettled',
  'too-large',
  'unfit-media',
  'no-such-range',
  'unreadable',
  'unproven',
  'too-many',
  'fault',
  'unavailable',
] as const;

/** A kind of problem as the service names it. */
export type ProblemKind = (typeof PROBLEM_KINDS)[number];

/** What somebody may do. */
export type Right = 'look' | 'send-files' | 'sign';

/** A publishing house, a printing house or a studio. */
export interface Party {
  readonly id: string;
  readonly name: string;
}

/** Somebody of a party. */
export interface Person {
  readonly id: string;
  readonly name: string;
  readonly party: string;
  readonly rights: readonly Right[];
}

/** Who is signed in. */
export interface Me {
  readonly person: Person;
  readonly party: Party;
}

/** What one's own party is to a title. */
export type Standing = 'publisher' | 'printer' | 'sight';

/** A title as a list has it. */
export interface Title {
  readonly id: string;
  readonly name: string;
  readonly publisher: Party;
  readonly printer: Party;
  readonly standing: Standing;
  readonly at: string;
}

/** Which part of a book. */
export type PartKind = 'book-block' | 'case' | 'jacket' | 'endpapers';

/** A part of a title. */
export interface Part {
  readonly id: string;
  readonly title: string;
  readonly kind: PartKind;
  readonly label: string;
  readonly name: string;
  readonly at: string;
}

/** A title with its parts. */
export interface WholeTitle extends Title {
  readonly formerNames: readonly string[];
  readonly parts: readonly Part[];
}

/** What a file is sent as. */
export type FileKind = 'dummy' | 'revision' | 'plates-input';

/** A file as it was sent. */
export interface SentFile {
  readonly id: string;
  readonly part: string;
  readonly position: number;
  readonly kind: FileKind;
  readonly revisionNumber: number | null;
  readonly name: string;
  readonly remark: string;
  readonly replaces: { readonly file: string; readonly pages: readonly PageRange[] } | null;
  /** How its sheets fold, as its sender said; null where nothing was said. */
  readonly folding: SaidFolding | null;
  readonly sender: { readonly id: string; readonly name: string; readonly party: string };
  readonly sha256: string;
  readonly at: string;
}

/** Pages of the book, from 1, both ends included. */
export interface PageRange {
  readonly first: number;
  readonly last: number;
}

/** Where one step of the work on a file stands; null where it was not asked for. */
export type Job = null | {
  readonly state: 'waiting' | 'running' | 'done' | 'failed';
  readonly stage: string;
  readonly done: number;
  readonly total: number;
  readonly tries: number;
  readonly cause: string | null;
};

/** How far the work on a file is. */
export interface Checking {
  readonly reading: Job;
  readonly comparing: Job;
  readonly drawing: Job;
}

/** Who has signed something, and when. */
export interface Signature {
  readonly party: 'publisher' | 'printer';
  readonly statement: string;
  readonly logIndex: number;
  readonly at: string;
}

/** How a part stands. */
export interface PartState {
  readonly dummies: readonly {
    readonly file: string;
    readonly standing: 'sent' | 'half-signed' | 'in-force' | 'replaced' | 'withdrawn';
    readonly signatures: readonly Signature[];
  }[];
  readonly inForce: string | null;
  readonly replacements: readonly string[];
  readonly releases: readonly Release[];
}

/** A release to plates. */
export interface Release {
  readonly file: string;
  readonly dummy: string;
  readonly report: string;
  readonly rulings: readonly string[];
  readonly signatures: readonly Signature[];
  readonly inForce: boolean;
  readonly onDummyInForce: boolean;
}

/** Something that waits for whoever is signed in. */
export interface Wait {
  readonly what: 'failed-file' | 'dummy-to-sign' | 'findings-to-rule-on' | 'release-to-sign';
  readonly file: string;
  readonly findings: number;
}

/** A part, where it stands, and what waits. */
export interface PartOnDesk extends Part {
  readonly stage: StageName;
  readonly file: string | null;
  readonly open: number;
  readonly waits: readonly Wait[];
}

/** A title with where its parts stand. */
export interface TitleOnDesk extends Title {
  readonly parts: readonly PartOnDesk[];
}

/** How grave a finding is. */
export type Weight = 'stop' | 'look' | 'note';

/** A finding as it is told before the report is made. */
export interface FirstFinding {
  readonly kind: string;
  readonly weight: Weight;
  readonly dummyPage: number | null;
  readonly revisionPage: number | null;
  readonly says: string;
}

/** What differs from the dummy, as far as a summary needs it. */
export interface FindingsPiece {
  readonly dummy: string;
  readonly report: string;
  readonly verdict: 'match' | 'differs';
  readonly items: readonly {
    readonly id: string;
    readonly weight: Weight;
    readonly finding: {
      readonly says: string;
      readonly dummyPage: number | null;
      readonly revisionPage: number | null;
    };
  }[];
  readonly next: string | null;
}

/** Somebody of one's own party. */
export interface Member extends Person {
  readonly hasAccount: boolean;
}

/** The secret of an invitation's link, told once. */
export interface InvitationMade {
  readonly secret: string;
  readonly until: string;
}

/** A token for a machine. */
export interface Token {
  readonly id: string;
  readonly label: string;
  readonly made: string;
  readonly until: string | null;
}

/** Who sees a title. */
export interface Seer {
  readonly party: Party;
  readonly standing: Standing;
}

/** A signed head of the archive's log. */
export interface Head {
  readonly origin: string;
  readonly verifierKey: string;
  readonly size: number;
  readonly root: string;
  readonly note: string;
  readonly at: string;
}

/** A time-stamp of a head, or one that is still to come. */
export interface TimeStamp {
  readonly authority: string;
  readonly state: 'pending' | 'held';
  readonly token: string | null;
  readonly at: string | null;
  readonly cause: string | null;
}

/** How the archive is. */
export interface ArchiveState {
  readonly at: string;
  readonly disk: { readonly freeBytes: number; readonly totalBytes: number };
  readonly jobs: { readonly waiting: number; readonly running: number };
  readonly timeStamps: boolean;
  readonly pendingTimeStamps: { readonly heads: number; readonly since: string; readonly cause: string | null } | null;
  readonly uploadBytes: number;
}

/** An entry of the log; its bytes are canonical JSON. */
export interface Entry {
  readonly index: number;
  readonly kind: string;
  readonly at: string;
  readonly leafHash: string;
  readonly bytes: string;
}

/** A statement as a record shows it. */
export interface Stated {
  readonly logIndex: number;
  readonly says: readonly string[];
}
