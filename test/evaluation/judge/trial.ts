import type { FindingKind } from '../../../src/model/index.ts';
import type { PlanChoice } from '../../../src/archive/index.ts';
import type { Expected, PlantedFault, TrueFigures } from '../seen/planted-fault.ts';

/** What has to be found, told by both files. */
export interface Wanted {
  readonly kind: FindingKind;
  /** Any of these; empty where the dummy has no such page. */
  readonly dummyPages: readonly number[];
  /** Any of these; empty where the revision has no such page. */
  readonly revisionPages: readonly number[];
  readonly figures?: TrueFigures;
  readonly oftenTold?: boolean;
  /** Of what is measured, all that must be so to the letter. */
  readonly exactly?: Readonly<Record<string, string | number | null>>;
}

/** The files of a trial; `planChoice` where the revision is imposed sheets. */
export interface TrialFiles {
  readonly dummyPath: string;
  readonly revisionPath: string;
  readonly planChoice?: PlanChoice;
}

/** Two files, and all that is true about them. */
export interface Trial {
  readonly name: string;
  readonly group: 'silent' | 'seen' | 'outside';
  readonly wanted: readonly Wanted[];
  /** For each page of the revision the dummy page it is, null where there is none; null where nobody has said. */
  readonly origins: readonly (number | null)[] | null;
  /** How many sheets the revision is; null: single pages. */
  readonly sheets: number | null;
  make(): Promise<TrialFiles>;
}

/** What a planted fault asks for, with revision pages as the pages went. */
export function wantedOf(fault: PlantedFault, origins: readonly (number | null)[]): readonly Wanted[] {
  return fault.expected.map((expected) => {
    const { kind, figures, oftenTold } = expected;
    return {
      kind,
      ...placesOf(expected, origins),
      ...(figures === undefined ? {} : { figures }),
      ...(oftenTold === undefined ? {} : { oftenTold }),
    };
  });
}

function placesOf({ kind, dummyPage, orDummyPage }: Expected, origins: readonly (number | null)[]) {
  const dummyPages = [dummyPage, orDummyPage].filter((page) => page !== null && page !== undefined);
  if (kind === 'page-missing') return { dummyPages, revisionPages: [] };
  const standing = origins.flatMap((origin, index) => {
    const meant = dummyPage === null ? origin === null : origin !== null && dummyPages.includes(origin);
    return meant ? [index + 1] : [];
  });
  return { dummyPages, revisionPages: standing };
}
