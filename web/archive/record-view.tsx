import { useSuspenseQueries } from '@tanstack/react-query';
import { useState } from 'react';
import { useTitleNews } from '../live/follow-title.ts';
import { paths } from '../paths.ts';
import { Button } from '../pieces/button.tsx';
import { Page } from '../pieces/page.tsx';
import { titleQuery } from '../titles/queries.ts';
import type { ViewGiven } from '../view.ts';
import { words } from '../words/index.ts';
import { namesQuery, recordQuery } from './queries.ts';
import { ANYTHING, linesThatFit } from './lines-that-fit.ts';
import { RecordFilter } from './record-filter.tsx';
import { RecordTable } from './record-table.tsx';
import { recordAsCsv, recordAsJson } from './record-export.ts';
import { saveText } from './save-text.ts';

const said = words.archive;

/** The record of a title as a trail that can be read, narrowed and saved. */
export default function RecordView({ params: { titleId = '' } }: ViewGiven) {
  const [{ data: title }, { data: lines }, { data: names }] = useSuspenseQueries({
    queries: [titleQuery(titleId), recordQuery(titleId), namesQuery(titleId)],
  });
  useTitleNews(titleId);
  const [wanted, want] = useState(ANYTHING);
  const shown = linesThatFit(lines, wanted, names);
  const { name } = title.value;
  return (
    <Page
      title={said.record}
      above={[
        { to: paths.home, name: words.titles.heading },
        { to: paths.title(titleId), name },
      ]}
    >
      <div className="stack">
        <p className="soft">{said.recordSays}</p>
        <RecordFilter wanted={wanted} kinds={new Set(lines.map(({ entry }) => entry.kind))} onChange={want} />
        <p role="status">{said.shown(shown.length, lines.length)}</p>
        {shown.length === 0 ? <p>{said.noneShown}</p> : <RecordTable lines={shown} names={names} />}
        <div className="row">
          <Button onClick={() => saveText(`${name}.csv`, 'text/csv', recordAsCsv(shown, names))}>{said.save}</Button>
          <Button onClick={() => saveText(`${name}.json`, 'application/json', recordAsJson(shown))}>
            {said.saveJson}
          </Button>
        </div>
      </div>
    </Page>
  );
}
