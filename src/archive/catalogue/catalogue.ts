import type { Access } from './access.ts';
import type { Accounts } from './accounts.ts';
import { accountsIn } from './accounts.ts';
import type { Certificates } from './certificates.ts';
import { certificatesIn } from './certificates.ts';
import type { Entrances } from './entrances.ts';
import { entrancesIn } from './entrances.ts';
import type { Files } from './files.ts';
import { filesIn } from './files.ts';
import type { Findings } from './findings.ts';
import { findingsIn } from './findings.ts';
import type { FoldedBooks } from './folded-books.ts';
import { foldedBooksIn } from './folded-books.ts';
import type { Foldings } from './foldings.ts';
import { foldingsIn } from './foldings.ts';
import type { GivenPlans } from './given-plans.ts';
import { givenPlansIn } from './given-plans.ts';
import type { Identity } from './identity.ts';
import { identityIn } from './identity.ts';
import type { Jobs } from './jobs.ts';
import { jobsIn } from './jobs.ts';
import type { KnownBlobs } from './known-blobs.ts';
import { knownBlobsIn } from './known-blobs.ts';
import type { Log } from './log.ts';
import { logIn } from './log.ts';
import type { Pages } from './pages.ts';
import { pagesIn } from './pages.ts';
import type { Parties } from './parties.ts';
import { partiesIn } from './parties.ts';
import type { People } from './people.ts';
import { peopleIn } from './people.ts';
import type { Pictures } from './pictures.ts';
import { picturesIn } from './pictures.ts';
import type { Remarks } from './remarks.ts';
import { remarksIn } from './remarks.ts';
import type { Reports } from './reports.ts';
import { reportsIn } from './reports.ts';
import type { Sight } from './sight.ts';
import { sightIn } from './sight.ts';
import type { Statements } from './statements.ts';
import { statementsIn } from './statements.ts';
import type { TimeStamps } from './time-stamps.ts';
import { timeStampsIn } from './time-stamps.ts';
import type { Titles } from './titles.ts';
import { titlesIn } from './titles.ts';
import type { Uploads } from './uploads.ts';
import { uploadsIn } from './uploads.ts';

/** All that is kept beside the blobs, by subject. Nothing here says how: another database can stand behind it. */
export interface Tables {
  readonly identity: Identity;
  readonly parties: Parties;
  readonly people: People;
  readonly titles: Titles;
  readonly sight: Sight;
  readonly blobs: KnownBlobs;
  readonly files: Files;
  readonly pages: Pages;
  readonly foldedBooks: FoldedBooks;
  readonly foldings: Foldings;
  readonly givenPlans: GivenPlans;
  readonly reports: Reports;
  readonly pictures: Pictures;
  readonly findings: Findings;
  readonly remarks: Remarks;
  readonly certificates: Certificates;
  readonly statements: Statements;
  readonly log: Log;
  readonly timeStamps: TimeStamps;
  readonly jobs: Jobs;
  readonly accounts: Accounts;
  readonly entrances: Entrances;
  readonly uploads: Uploads;
}

/** The catalogue. Every call that writes is on disk when it returns. */
export interface Catalogue extends Tables {
  /**
   * Several calls as one: all of them or none. Inside, only the tables that are handed in are used; they see what was
   * written before, nobody else does until the end.
   */
  together<T>(work: (tables: Tables) => Promise<T>): Promise<T>;
  /** Copies the catalogue as it stands at one moment into a new file, while it is used. */
  backUp(file: string): Promise<void>;
  close(): void;
}

/** The tables as one access sees them. */
export function tablesOf(access: Access): Tables {
  return {
    identity: identityIn(access),
    parties: partiesIn(access),
    people: peopleIn(access),
    titles: titlesIn(access),
    sight: sightIn(access),
    blobs: knownBlobsIn(access),
    files: filesIn(access),
    pages: pagesIn(access),
    foldedBooks: foldedBooksIn(access),
    foldings: foldingsIn(access),
    givenPlans: givenPlansIn(access),
    reports: reportsIn(access),
    pictures: picturesIn(access),
    findings: findingsIn(access),
    remarks: remarksIn(access),
    certificates: certificatesIn(access),
    statements: statementsIn(access),
    log: logIn(access),
    timeStamps: timeStampsIn(access),
    jobs: jobsIn(access),
    accounts: accountsIn(access),
    entrances: entrancesIn(access),
    uploads: uploadsIn(access),
  };
}
