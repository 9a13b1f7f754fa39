import { useSuspenseQueries } from '@tanstack/react-query';
import { useState } from 'react';
import { fileQuery } from '../files/queries.ts';
import { useTitleNews } from '../live/follow-title.ts';
import { Button } from '../pieces/button.tsx';
import { Empty } from '../pieces/empty.tsx';
import { LongList } from '../pieces/long-list.tsx';
import { Notice } from '../pieces/notice.tsx';
import type { ViewGiven } from '../view.ts';
import { words } from '../words/index.ts';
import { FilePage } from './file-page.tsx';
import { byPage, shownBy, type FindingFilter } from './filter.ts';
import { FilterRow } from './filter-row.tsx';
import { FindingCard } from './finding-card.tsx';
import { findingsQuery } from './queries.ts';
import { RuleOn } from './rule-on.tsx';
import { useSide } from './use-side.ts';

const said = words.decide;
/** About what a page's heading and one of its findings take, until they were shown. */
const HEADING_PX = 60;
const CARD_PX = 330;

/** What differs in a file, page by page, to be looked at, talked about and ruled on, one or many at once. */
export default function FindingsView({ params: { titleId = '', fileId = '' } }: ViewGiven) {
  const [{ data: file }, { data: found }] = useSuspenseQueries({
    queries: [fileQuery(titleId, fileId), findingsQuery(titleId, fileId)],
  });
  useTitleNews(titleId);
  const { side, maySign, names } = useSide(titleId);
  const [filter, setFilter] = useState<FindingFilter>({ stand: 'all', weight: 'all' });
  const [chosen, choose] = useState<ReadonlySet<string>>(new Set());
  const [isRuling, rule] = useState(false);
  const shown = shownBy(filter, found.items, side);
  const picked = found.items.filter(({ id }) => chosen.has(id));
  const toggle = (id: string): void => {
    const next = new Set(chosen);
    if (!next.delete(id)) next.add(id);
    choose(next);
  };
  if (isRuling) {
    const back = (): void => rule(false);
    const done = (): void => {
      back();
      choose(new Set());
    };
    return (
      <FilePage titleId={titleId} fileId={fileId} title={said.ruleHeading(picked.length)}>
        <RuleOn titleId={titleId} file={file} found={found} findings={picked} onBack={back} onDone={done} />
      </FilePage>
    );
  }
  return (
    <FilePage titleId={titleId} fileId={fileId} title={said.heading}>
      <div className="stack">
        <div className="row">
          <span className="soft file-name">{file.name}</span>
          <a href={`/api/files/${fileId}/report-pdf`} download>
            {said.asPdf}
          </a>
        </div>
        {found.items.length === 0 ? (
          <Notice tone="well" title={words.files.match} />
        ) : (
          <FilterRow filter={filter} onFilter={setFilter} all={found.items} side={side} />
        )}
        {found.items.length > 0 && shown.length === 0 && (
          <Empty title={said.noneShown}>
            <p>{said.noneShownNext}</p>
          </Empty>
        )}
        {shown.length > 0 && (
          <LongList
            label={said.byPage}
            items={byPage(shown)}
            keyOf={([page]) => page ?? 0}
            about={([, findings]) => HEADING_PX + CARD_PX * findings.length}
            shows={([page, findings]) => (
              <section className="section page-findings" aria-labelledby={`page-${page ?? 0}`}>
                <h2 id={`page-${page ?? 0}`}>{said.page(page)}</h2>
                {findings.map((one) => (
                  <FindingCard
                    key={one.id}
                    titleId={titleId}
                    fileId={fileId}
                    reportId={found.report}
                    one={one}
                    names={names}
                    choice={maySign ? { isChosen: chosen.has(one.id), onChoose: () => toggle(one.id) } : null}
                  />
                ))}
              </section>
            )}
          />
        )}
      </div>
      {maySign && shown.length > 0 && (
        <div className="strip row choosing" role="group" aria-label={said.choosing}>
          <span role="status">{said.chosen(picked.length)}</span>
          <Button look="firm" disabled={picked.length === 0} onClick={() => rule(true)}>
            {said.rule}
          </Button>
          <Button
            look="bare"
            onClick={() => choose(picked.length > 0 ? new Set() : new Set(shown.map(({ id }) => id)))}
          >
            {picked.length > 0 ? said.chooseNone : said.chooseShown(shown.length)}
          </Button>
        </div>
      )}
    </FilePage>
  );
}
