import type { Edit } from '../../../demo/book/edits/pages.ts';
import type { Box, FindingKind } from '../../../src/model/index.ts';
import type { ExcerptName } from './excerpts.ts';

/** True figures of a fault, as far as its kind has them; lengths in mm on the page. */
export interface TrueFigures {
  readonly shiftXmm?: number;
  readonly shiftYmm?: number;
  readonly scale?: number;
  readonly degrees?: number;
  readonly areaMm2?: number;
  /** At the one edge that was cut; negative where more shows. */
  readonly cutMm?: { readonly edge: 'left' | 'right' | 'top' | 'bottom'; readonly mm: number };
}

/** What has to be found, told by the dummy; where it stands in the revision follows from how the pages went. */
export interface Expected {
  readonly kind: FindingKind;
  /** From 1 in the excerpt; null for what the dummy does not have. */
  readonly dummyPage: number | null;
  /** Of two exchanged neighbours either may be called the moved one. */
  readonly orDummyPage?: number;
  /** Where on the dummy page, when the same page has several. */
  readonly near?: Box;
  readonly figures?: TrueFigures;
  /** A change of many lines may be told in one finding or in many. */
  readonly oftenTold?: boolean;
}

/** A mistake made on purpose, in a copy of a book that is otherwise right. */
export interface PlantedFault {
  readonly name: string;
  readonly excerpt: ExcerptName;
  readonly edit: Edit;
  readonly expected: readonly Expected[];
  /** Set where the revision is worked over by another program afterwards. */
  readonly after?: 'type outlined';
}
