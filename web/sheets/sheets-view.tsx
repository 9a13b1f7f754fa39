import { isOfPlateOn } from '../../src/model/index.ts';
import { Fragment } from 'react';
import { useSuspenseQueries } from '@tanstack/react-query';
import { Link } from 'wouter';
import { marksOfPages } from '../book/marks-of-pages.ts';
import { comparedQuery } from '../book/queries.ts';
import type { SentFile } from '../call/answers.ts';
import { fileQuery } from '../files/queries.ts';
import { useTitleNews } from '../live/follow-title.ts';
import { paths } from '../paths.ts';
import { Empty } from '../pieces/empty.tsx';
import { Notice } from '../pieces/notice.tsx';
import { Page } from '../pieces/page.tsx';
import { titleQuery } from '../titles/queries.ts';
import type { ViewGiven } from '../view.ts';
import { words } from '../words/index.ts';
import { ConfirmPlan } from './confirm-plan.tsx';
import { FoldAgain } from './fold-again.tsx';
import { Plates } from './plates.tsx';
import { sheetsQuery } from './queries.ts';
import type { Sheets } from './queries.ts';
import { SheetSide } from './sheet-side.tsx';

const said = words.sheets;

/** Every side of imposed sheets, with the pages where they lie on it; from a page to its comparison. */
export default function SheetsView({ params: { titleId = '', fileId = '' } }: ViewGiven) {
  const [{ data: title }, { data: file }, { data: sheets }, { data: compared }] = useSuspenseQueries({
    queries: [
      titleQuery(titleId),
      fileQuery(titleId, fileId),
      sheetsQuery(titleId, fileId),
      comparedQuery(titleId, fileId),
    ],
  });
  useTitleNews(titleId);
  const marks = marksOfPages(compared);
  // what is wrong of a cell is told of the page that belongs there and of the one that lies there
  const marked = new Map([...marks.dummy, ...marks.revision]);
  const above = [
    { to: paths.title(titleId), name: title.value.name },
    { to: paths.file(titleId, fileId), name: words.titles.fileKind(file.kind, file.revisionNumber) },
  ];
  const toBook = <Link href={paths.book(titleId, fileId)}>{said.toBook}</Link>;
  return (
    <Page title={said.heading} above={above} deeds={toBook}>
      {sheets === null ? (
        <Empty title={said.none}>
          <p>{said.noneNext}</p>
        </Empty>
      ) : (
        <div className="stack-wide">
          <PlanFacts titleId={titleId} file={file} sheets={sheets} />
          {sheets.sides.map((side) => (
            <SheetSide
              key={side.filePage}
              titleId={titleId}
              fileId={fileId}
              side={side}
              marks={marked}
              onPlates={(compared?.findings ?? []).filter(({ finding }) => isOfPlateOn(finding, side))}
            />
          ))}
          {sheets.separations !== null && <Plates separations={sheets.separations} />}
        </div>
      )}
    </Page>
  );
}

interface PlanGiven {
  readonly titleId: string;
  readonly file: SentFile;
  readonly sheets: Sheets;
}

function PlanFacts({ titleId, file, sheets }: PlanGiven) {
  const { plan, binding, located, sides, foldingPlan, saidAgain, isCheckedSo } = sheets;
  return (
    <div className="stack">
      {plan === 'found' && <ConfirmPlan titleId={titleId} fileId={file.id} sheets={sheets} />}
      {!isCheckedSo && (
        <Notice tone="note" title={said.checkedOtherwise}>
          <p>{said.checkedOtherwiseSays}</p>
        </Notice>
      )}
      <dl className="facts">
        <dt>{said.plan}</dt>
        <dd>{said.planOf(plan, binding)}</dd>
        {saidAgain.map(({ folding, by, at }) => (
          <Fragment key={at}>
            <dt>{said.saidAgain}</dt>
            <dd>{said.saidAgainBy(folding, by.name, words.figures.moment(at))}</dd>
          </Fragment>
        ))}
        <dt>{said.located}</dt>
        <dd>{said.locatedBy[located]}</dd>
        <dt>{said.sides}</dt>
        <dd>
          {sides.map(({ filePage, sheet, side }) => (
            <a key={filePage} className="side-link" href={`#side-${filePage}`}>
              {said.side(sheet, side)}
            </a>
          ))}
        </dd>
        <dt>{said.planHash}</dt>
        <dd>
          <code>{foldingPlan}</code>{' '}
          <a href={`/api/files/${file.id}/plan`} download>
            {said.savePlan}
          </a>
        </dd>
      </dl>
      <FoldAgain titleId={titleId} file={file} />
    </div>
  );
}
