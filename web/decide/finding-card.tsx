import { Link } from 'wouter';
import type { Party } from '../../src/model/index.ts';
import { paths } from '../paths.ts';
import { Tag } from '../pieces/notice.tsx';
import { words } from '../words/index.ts';
import { BothWords, RulingTag } from './both-words.tsx';
import { Exhibits } from './exhibits.tsx';
import type { FoundFinding } from './queries.ts';

const said = words.decide;

interface CardGiven {
  readonly titleId: string;
  readonly fileId: string;
  readonly reportId: string;
  readonly one: FoundFinding;
  readonly names: Readonly<Record<Party, string>>;
  /** Null: nothing can be chosen here. */
  readonly choice: { readonly isChosen: boolean; readonly onChoose: () => void } | null;
}

/** A finding in the list of its file: its pictures, its sentence, and what both sides say of it. */
export function FindingCard({ titleId, fileId, reportId, one, names, choice }: CardGiven) {
  const { id, mark, weight, finding, ruling, remarks, firstFile } = one;
  return (
    <article className={`leaf finding ${choice?.isChosen === true ? 'chosen' : ''}`} aria-labelledby={`says-${id}`}>
      <div className="row">
        {choice && (
          <label className="pick">
            <input type="checkbox" checked={choice.isChosen} onChange={choice.onChoose} />
            <span>
              {said.choose} <span className="unseen">{finding.says}</span>
            </span>
          </label>
        )}
        <Tag tone={weight}>{words.files.weights[weight]}</Tag>
        <RulingTag state={ruling.state} />
        {firstFile !== fileId && <Tag>{said.older}</Tag>}
      </div>
      <p className="finding-says" id={`says-${id}`}>
        <Link href={paths.finding(titleId, fileId, id)}>{finding.says}</Link>
      </p>
      <Exhibits titleId={titleId} reportId={reportId} mark={mark} size="small" />
      {ruling.state !== 'none' && <BothWords ruling={ruling} names={names} />}
      {remarks > 0 && <p className="soft small">{said.remarks(remarks)}</p>}
    </article>
  );
}
