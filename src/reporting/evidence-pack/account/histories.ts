import type { PackFacts } from '../../../evidence/index.ts';
import type { AccountSource, Section } from './section.ts';
import { capital, fileWords, momentWords, personWords } from './names.ts';

const STATE_WORDS: Readonly<Record<PackFacts['history'][number]['states'][number]['state'], string>> = {
  dummy: 'as in the dummy',
  'same-content': 'the same content, byte for byte',
  'same-picture': 'shows the same',
  differs: 'differs',
  missing: 'missing',
  'not-compared': 'not compared',
};

/** What became of the page that a pack is about, or of each page on which something was to be decided. */
export function historySections({ facts }: AccountSource): readonly Section[] {
  if (facts.history.length === 0) return [];
  const { scope } = facts;
  const isOnePage = scope.kind === 'page';
  const columns = [
    ...(isOnePage ? [] : [{ title: 'Dummy page', share: 0.1 }]),
    { title: 'File', share: 0.26 },
    { title: 'Sent', share: isOnePage ? 0.36 : 0.26 },
    { title: 'Page there', share: 0.08 },
    { title: 'State', share: 0.12 },
    { title: 'Content hash begins', share: 0.18 },
  ];
  const rows = facts.history.flatMap(({ partId, dummyPage, states }) => {
    const part = facts.parts.length === 1 ? '' : `${facts.parts.find(({ id }) => id === partId)?.name ?? ''}, `;
    return states.flatMap(({ fileId, pageNumber, state, contentHash }) => {
      const file = facts.files.find(({ id }) => id === fileId);
      if (file === undefined) return [];
      return [
        [
          ...(isOnePage ? [] : [`${part}${dummyPage}`]),
          capital(fileWords(file)),
          `${momentWords(file.at)}, by ${personWords(facts, file.senderId)}`,
          pageNumber === null ? '–' : `${pageNumber}`,
          capital(STATE_WORDS[state]),
          contentHash === null ? '–' : contentHash.slice(0, 16),
        ],
      ];
    });
  });
  const heading = scope.kind === 'page' ? `Page ${scope.dummyPage} of the dummy` : 'Pages with differences';
  const pictures = scope.kind === 'page' ? pagePictures(facts) : [];
  return [
    {
      heading,
      blocks: [
        { kind: 'table', columns, rows },
        ...(pictures.length === 0 ? [] : [{ kind: 'pictures' as const, pictures }]),
      ],
    },
  ];
}

/** The page as each file shows it; where files show the same, once. */
function pagePictures(facts: PackFacts): readonly { readonly member: string; readonly caption: string }[] {
  const captions = new Map<string, string[]>();
  for (const { fileId, pageNumber, picture } of facts.history.flatMap(({ states }) => states)) {
    const file = facts.files.find(({ id }) => id === fileId);
    if (picture === null || file === undefined) continue;
    const caption = `${capital(fileWords(file))}, page ${pageNumber ?? ''}`;
    captions.set(picture, [...(captions.get(picture) ?? []), caption]);
  }
  return [...captions].map(([member, words]) => ({ member, caption: words.join('; ') }));
}
