import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import { pictureOf } from '../book/queries.ts';
import type { SentFile } from '../call/answers.ts';
import { paths } from '../paths.ts';
import { Tag, type Tone } from '../pieces/notice.tsx';
import { words } from '../words/index.ts';
import { pageHistoryQuery, type PageInFile } from './queries.ts';

const said = words.prove;
const WIDTH_PX = 240;
const TONES: Readonly<Record<PageInFile['state'], Tone>> = {
  dummy: 'note',
  'same-content': 'well',
  'same-picture': 'well',
  differs: 'look',
  missing: 'stop',
  'not-compared': 'note',
};

interface HistoryGiven {
  readonly titleId: string;
  readonly dummyId: string;
  readonly page: number;
  /** Of the part. */
  readonly files: readonly SentFile[];
}

/** A page's way from the dummy to plates: its picture in every file, and how it stands there. */
export function PageHistory({ titleId, dummyId, page, files }: HistoryGiven) {
  const { data: states } = useSuspenseQuery(pageHistoryQuery(titleId, dummyId, page));
  return (
    <ol className="page-way" tabIndex={0} aria-label={said.wayOf(page)}>
      {states.map(({ file: fileId, state, pageNumber, picture }) => {
        const file = files.find(({ id }) => id === fileId);
        if (file === undefined) return null;
        return (
          <li key={fileId} className="leaf">
            {pageNumber === null ? (
              <p className="soft">{said.nowhere}</p>
            ) : (
              <Link href={paths.look(titleId, fileId, pageNumber)}>
                <img src={pictureOf({ picture }, WIDTH_PX)} alt={said.pageIn(pageNumber, file.name)} loading="lazy" />
              </Link>
            )}
            <p>{words.titles.fileKind(file.kind, file.revisionNumber)}</p>
            <p className="small soft">
              {pageNumber !== null && said.asPage(pageNumber)}{' '}
              {words.files.by(file.sender.name, words.figures.moment(file.at))}
            </p>
            <Tag tone={TONES[state]}>{said.states[state]}</Tag>
          </li>
        );
      })}
    </ol>
  );
}
