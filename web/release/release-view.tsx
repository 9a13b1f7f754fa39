import { useQuery, useSuspenseQueries } from '@tanstack/react-query';
import { useState } from 'react';
import { Link } from 'wouter';
import { releasedSides, type Check, type ReleasedSide, type Statement } from '../../src/model/index.ts';
import type { SentFile } from '../call/answers.ts';
import { readItems } from '../call/call.ts';
import { pagesQuery, signedPagesQuery, type BookPage } from '../book/queries.ts';
import { FilePage } from '../decide/file-page.tsx';
import { RulingTag, BothWords } from '../decide/both-words.tsx';
import { isOpen } from '../decide/filter.ts';
import { findingsQuery, reportQuery, type FileFindings } from '../decide/queries.ts';
import { useSide } from '../decide/use-side.ts';
import { fileQuery, partStateQuery } from '../files/queries.ts';
import { useTitleNews } from '../live/follow-title.ts';
import { paths } from '../paths.ts';
import { Notice, Tag } from '../pieces/notice.tsx';
import { SignSheet } from '../signing/sign-sheet.tsx';
import type { ViewGiven } from '../view.ts';
import { words } from '../words/index.ts';
import { PageStrip } from './page-strip.tsx';
import { sheetsQuery } from '../sheets/queries.ts';
import type { Sheets } from '../sheets/queries.ts';
import { hashesOf } from './page-hashes.ts';
import { Signatures } from './signatures.tsx';
import { statementsQuery } from './statements-query.ts';

const said = words.release;

interface Hindrance {
  readonly finding: string;
}

/** The release of a plates input: what stands in its way, or what it rests on, and the signatures of both sides. */
export default function ReleaseView({ params: { titleId = '', fileId = '' } }: ViewGiven) {
  const [{ data: file }, { data: found }] = useSuspenseQueries({
    queries: [fileQuery(titleId, fileId), findingsQuery(titleId, fileId)],
  });
  const [{ data: state }] = useSuspenseQueries({ queries: [partStateQuery(titleId, file.part)] });
  const { data: hindrances = [] } = useQuery({
    queryKey: ['title', titleId, 'file', fileId, 'hindrances'],
    queryFn: ({ signal }) => readItems<Hindrance>(`/api/files/${fileId}/hindrances`, signal),
  });
  useTitleNews(titleId);
  const { side, maySign, names, partName } = useSide(titleId);
  const release = state.releases.findLast((one) => one.file === fileId && one.onDummyInForce);
  const hasSigned = release?.signatures.some(({ party }) => party === side) === true;
  const open = found.items.filter((one) => isOpen(one) || hindrances.some(({ finding }) => finding === one.id));
  return (
    <FilePage titleId={titleId} fileId={fileId} title={said.releaseHeading(partName(file.part))}>
      <div className="stack-wide">
        {open.length > 0 ? (
          <Hindered titleId={titleId} fileId={fileId} open={open} names={names} />
        ) : (
          <Grounds titleId={titleId} file={file} found={found} names={names} />
        )}
        <section className="section" aria-labelledby="signatures">
          <h2 id="signatures">{said.signatures}</h2>
          {release?.inForce === true && (
            <Notice tone="well" title={said.released}>
              <p>{said.releasedSays}</p>
            </Notice>
          )}
          <Signatures signatures={release?.signatures ?? []} names={names} />
        </section>
        {maySign && open.length === 0 && (
          <SignRelease titleId={titleId} file={file} found={found} hasSigned={hasSigned} />
        )}
      </div>
    </FilePage>
  );
}

interface HinderedGiven {
  readonly titleId: string;
  readonly fileId: string;
  readonly open: FileFindings['items'];
  readonly names: ReturnType<typeof useSide>['names'];
}

function Hindered({ titleId, fileId, open, names }: HinderedGiven) {
  return (
    <section className="section" aria-labelledby="hindered">
      <h2 id="hindered">{said.inTheWay}</h2>
      <Notice tone="stop" title={said.hindered(open.length)}>
        <p>{said.hinderedNext}</p>
      </Notice>
      <ul className="stack">
        {open.map(({ id, weight, finding, ruling }) => (
          <li key={id}>
            <article className="leaf stack">
              <div className="row">
                <Tag tone={weight}>{words.files.weights[weight]}</Tag>
                <RulingTag state={ruling.state} />
              </div>
              <Link href={paths.finding(titleId, fileId, id)}>{finding.says}</Link>
              {ruling.state !== 'none' && <BothWords ruling={ruling} names={names} />}
            </article>
          </li>
        ))}
      </ul>
    </section>
  );
}

interface GroundsGiven {
  readonly titleId: string;
  readonly file: SentFile;
  readonly found: FileFindings;
  readonly names: ReturnType<typeof useSide>['names'];
}

/** What a release rests on: the dummy, the comparison with it, and what both agreed. */
function Grounds({ titleId, file, found, names }: GroundsGiven) {
  const [{ data: pages }, { data: dummy }, { data: sheets }] = useSuspenseQueries({
    queries: [pagesQuery(titleId, file.id), fileQuery(titleId, found.dummy), sheetsQuery(titleId, file.id)],
  });
  const agreed = found.items.filter(({ weight, ruling }) => weight !== 'note' && ruling.state === 'settled');
  const notes = found.items.filter(({ weight }) => weight === 'note').length;
  return (
    <section className="section" aria-labelledby="grounds">
      <h2 id="grounds">{said.restsOn}</h2>
      <dl className="facts">
        <dt>{said.platesInput}</dt>
        <dd>
          <span className="file-name">{file.name}</span>, {said.pages(pages.length)}
        </dd>
        {sheets !== null && <SidesToRelease titleId={titleId} fileId={file.id} sheets={sheets} />}
        <dt>{said.dummyInForce}</dt>
        <dd>
          <Link href={paths.file(titleId, dummy.id)}>{dummy.name}</Link>
        </dd>
        <dt>{said.comparison}</dt>
        <dd>
          {said.compared(found.items.length - notes, notes)}{' '}
          <Link href={paths.findings(titleId, file.id)}>{words.decide.heading}</Link>
        </dd>
      </dl>
      <PageStrip titleId={titleId} fileId={file.id} pages={pages} />
      {agreed.length > 0 && (
        <>
          <h3>{said.agreedByBoth}</h3>
          <ul className="stack">
            {agreed.map(({ id, finding, ruling }) => (
              <li key={id}>
                <article className="leaf stack">
                  <Link href={paths.finding(titleId, file.id, id)}>{finding.says}</Link>
                  <BothWords ruling={ruling} names={names} />
                </article>
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}

function SignRelease({
  titleId,
  file,
  found,
  hasSigned,
}: Omit<GroundsGiven, 'names'> & { readonly hasSigned: boolean }) {
  const [before] = useState(hasSigned);
  const [{ data: pages }, { data: dummy }, { data: report }, { data: statements }, { data: sheets }] =
    useSuspenseQueries({
      queries: [
        signedPagesQuery(titleId, file.id),
        fileQuery(titleId, found.dummy),
        reportQuery(titleId, found.report),
        statementsQuery(titleId),
        sheetsQuery(titleId, file.id),
      ],
    });
  if (before) return <p>{said.hasSigned}</p>;
  const rulings = statements.filter(({ kind }) => kind === 'ruling').map(({ id }) => id);
  const shown = found.items.flatMap(({ weight, ruling }) =>
    weight === 'note' ? [] : [ruling.publisher?.statement, ruling.printer?.statement],
  );
  return (
    <SignSheet
      deed={said.releaseDeed}
      wish={{
        titleId,
        kind: 'release',
        order: { file: file.id },
        subject: {
          ...{ part: { id: file.part }, dummy: dummy.sha256, report: report.sha256 },
          platesInput: { sha256: file.sha256, pages: hashesOf(pages) },
          ...(sheets !== null && { sheets: sidesToSign(sheets, pages) }),
        },
        alsoCheck: (statement) => [rulingsCheck(statement, rulings, shown)],
      }}
    />
  );
}

/** The sides as they are shown here, to be held against those of the draft. */
function sidesToSign({ sides, separations }: Sheets, pages: readonly BookPage[]): readonly ReleasedSide[] {
  const shown = { sides, ...(separations !== null && { separations }) };
  return releasedSides(shown, (filePage) => pages[filePage - 1]?.contentHash ?? '');
}

/** Every side by what the statement names of it: the hash of its page, or of each plate. */
function SidesToRelease({
  titleId,
  fileId,
  sheets: { sides, separations },
}: {
  readonly titleId: string;
  readonly fileId: string;
  readonly sheets: Sheets;
}) {
  return (
    <>
      <dt>
        <Link href={paths.sheets(titleId, fileId)}>{words.sheets.sides}</Link>
      </dt>
      <dd>
        <ul className="plain-list">
          {separations === null
            ? sides.map(({ filePage, sheet, side, contentHash }) => (
                <li key={filePage}>
                  {words.sheets.side(sheet, side)} <code className="small">{contentHash}</code>
                </li>
              ))
            : separations.map(({ sheet, side, ink, file, sha256 }) => (
                <li key={`${sheet} ${side} ${file}`}>
                  {words.sheets.side(sheet, side)}, {words.sheets.ink(ink)} <code className="small">{sha256}</code>
                </li>
              ))}
        </ul>
      </dd>
    </>
  );
}

/** That a release rests on the rulings that are shown here, each of which stands among the statements of the title. */
function rulingsCheck(statement: Statement, known: readonly string[], shown: readonly (string | undefined)[]): Check {
  const named = statement.kind === 'release' ? statement.subject.rulings : [];
  const strange = named.find((id) => !known.includes(id));
  if (strange !== undefined) {
    return { name: 'rulings', outcome: 'fails', expected: 'rulings of this title', found: strange };
  }
  const left = shown.find((id) => id !== undefined && !named.includes(id));
  if (left === undefined) return { name: 'rulings', outcome: 'holds' };
  return { name: 'rulings', outcome: 'fails', expected: left, found: 'nothing' };
}
