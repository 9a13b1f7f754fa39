import { Notice } from '../pieces/notice.tsx';
import { words } from '../words/index.ts';
import type { FoundFinding, Ruling, Word } from './queries.ts';
import type { OwnSide } from './use-side.ts';

const said = words.decide;

/** The statements that stood on findings when somebody looked at them. */
export type SeenWords = ReadonlySet<string>;

/** What stands on findings now. */
export function wordsOn(findings: readonly FoundFinding[]): SeenWords {
  return new Set(findings.flatMap(({ ruling }) => wordsIn(ruling).map(({ statement }) => statement)));
}

interface MeanwhileGiven extends Pick<OwnSide, 'side' | 'names'> {
  readonly findings: readonly FoundFinding[];
  /** What stood there when one began to rule. */
  readonly seen: SeenWords;
  /** One’s own statement, once it is signed and taken. */
  readonly taken: string | null;
}

/** What was said on the same findings while one was ruling on them: by the other side, and by others of one’s own. */
export function Meanwhile({ findings, seen, taken, side, names }: MeanwhileGiven) {
  if (side === null) return null;
  const other = side === 'publisher' ? 'printer' : 'publisher';
  const isNew = (word: Word | null): word is Word =>
    word !== null && word.statement !== taken && !seen.has(word.statement);
  const theirs = findings.filter(({ ruling }) => isNew(ruling[other]));
  const ours = findings.filter(({ ruling }) => isNew(ruling[side]));
  const isInConflict = theirs.some(({ ruling }) => ruling.state === 'conflicting');
  return (
    <>
      {ours.length > 0 && (
        <Notice tone="look" title={said.oursMeanwhile} isNews>
          <p>{wordSays(ours, side)}</p>
          <p>{taken === null ? said.oursMeanwhileNext : said.oursLaterNext}</p>
        </Notice>
      )}
      {theirs.length > 0 && (
        <Notice
          tone={taken !== null && !isInConflict ? 'well' : 'look'}
          title={said.theirsMeanwhile(names[other])}
          isNews
        >
          <p>{wordSays(theirs, other)}</p>
          <p>{taken === null ? said.theirsMeanwhileNext : isInConflict ? said.conflictNext : said.settledNext}</p>
        </Notice>
      )}
    </>
  );
}

function wordsIn({ publisher, printer }: Ruling): readonly Word[] {
  return [publisher, printer].filter((word) => word !== null);
}

/** The word of a side, where it is one for all of the findings; of several, how many there are. */
function wordSays(findings: readonly FoundFinding[], side: 'publisher' | 'printer'): string {
  const all = new Set(
    findings.flatMap(({ ruling }) => {
      const word = ruling[side];
      return word === null ? [] : [`${said.decisions[word.decision]} · ${said.accounts[word.account]}`];
    }),
  );
  const [one = ''] = all;
  return all.size === 1 ? one : said.severalWords(findings.length);
}
