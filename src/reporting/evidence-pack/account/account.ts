import type { PackFacts } from '../../../evidence/index.ts';
import { conclusionSection } from './conclusions.ts';
import { differenceSections } from './differences.ts';
import { eventSection } from './events.ts';
import { historySections } from './histories.ts';
import { proofSection } from './proofs.ts';
import { signatureSection } from './signatures.ts';
import type { Account, AccountSource } from './section.ts';
import { standingSection } from './standing.ts';

const SUBTITLES: Readonly<Record<PackFacts['scope']['kind'], (facts: PackFacts) => string>> = {
  title: () => 'The whole title',
  part: ({ parts }) => `Of this title, the part ${parts[0]?.name ?? ''} alone`,
  page: ({ parts, scope }) =>
    `Of this title, page ${scope.kind === 'page' ? scope.dummyPage : ''} of the part ${parts[0]?.name ?? ''}`,
};

/** Tells what happened to a title, a part or a page: the same facts in the same words. */
export function accountOf(source: AccountSource): Account {
  const { facts } = source;
  return {
    title: facts.title.name,
    subtitle: SUBTITLES[facts.scope.kind](facts),
    sections: [
      standingSection(source),
      ...(facts.scope.kind === 'page' ? historySections(source) : []),
      ...differenceSections(source),
      ...(facts.scope.kind === 'page' ? [] : historySections(source)),
      signatureSection(source),
      eventSection(source),
      proofSection(source),
      conclusionSection(),
    ],
  };
}
