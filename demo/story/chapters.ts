import { playAccounts } from './chapters/accounts.ts';
import { playDummy } from './chapters/dummy.ts';
import { playEvidence } from './chapters/evidence.ts';
import { playKeys } from './chapters/keys.ts';
import { playRefusedRelease, playRelease } from './chapters/plates.ts';
import { heldAgainst, playRevisions, playRulings, playThirdRevision } from './chapters/revisions.ts';
import type { BookName } from './books.ts';
import type { Stage } from './stage.ts';

/** A moment at which the story can be left: what holds then. */
export type Moment = 'dummy-signed' | 'findings-open' | 'release-refused' | 'released' | 'verified';

/** A piece of the story. */
export interface Chapter {
  readonly heading: string;
  readonly play: (stage: Stage) => Promise<unknown>;
  /** The files that it sends. */
  readonly sends: readonly BookName[];
  /** The moment that it ends at, where that has a name. */
  readonly until: Moment | null;
}

const ruleOnLast = async (stage: Stage): Promise<void> =>
  void (await playRulings(stage, await heldAgainst(stage, stage.cast.publisher)));

/** The chapters in their order. */
export const CHAPTERS: readonly Chapter[] = [
  { heading: 'The first accounts', play: playAccounts, sends: [], until: null },
  { heading: 'Keys', play: playKeys, sends: [], until: null },
  { heading: 'The dummy', play: playDummy, sends: ['dummy'], until: 'dummy-signed' },
  { heading: 'Two revisions', play: playRevisions, sends: ['prepared', 'corrected'], until: 'findings-open' },
  { heading: 'Rulings', play: ruleOnLast, sends: [], until: null },
  { heading: 'A third revision', play: playThirdRevision, sends: ['slipped'], until: null },
  { heading: 'A release that is refused', play: playRefusedRelease, sends: ['disordered'], until: 'release-refused' },
  { heading: 'The release', play: playRelease, sends: ['mended'], until: 'released' },
  { heading: 'The evidence', play: playEvidence, sends: [], until: 'verified' },
];

/** The chapters up to a moment. */
export function chaptersUntil(moment: Moment): readonly Chapter[] {
  return CHAPTERS.slice(0, CHAPTERS.findIndex(({ until }) => until === moment) + 1);
}
