import { useSuspenseQueries, useSuspenseQuery } from '@tanstack/react-query';
import { useSearch } from 'wouter';
import { comparedQuery, pagesQuery } from '../book/queries.ts';
import type { BookPage, Compared } from '../book/queries.ts';
import { spreadOf, spreadsOf } from '../book/spreads.ts';
import { fileQuery } from '../files/queries.ts';
import { paths } from '../paths.ts';
import { Notice } from '../pieces/notice.tsx';
import { Page } from '../pieces/page.tsx';
import { SheetOfPage } from '../sheets/sheet-of-page.tsx';
import { titleQuery } from '../titles/queries.ts';
import type { ViewGiven } from '../view.ts';
import { words } from '../words/index.ts';
import { Bench } from './bench.tsx';
import { laidOf } from './laid.ts';
import { PageTurning } from './page-turning.tsx';

const said = words.look;

/** A page of a file closely, or both of its spread, against the pages of the dummy that they are held against. */
export default function LookView({ params: { titleId = '', fileId = '', pageNumber = '1' } }: ViewGiven) {
  const [{ data: title }, { data: file }, { data: pages }, { data: compared }] = useSuspenseQueries({
    queries: [
      titleQuery(titleId),
      fileQuery(titleId, fileId),
      pagesQuery(titleId, fileId),
      comparedQuery(titleId, fileId),
    ],
  });
  const isSpread = new URLSearchParams(useSearch()).has('spread');
  const number = Number(pageNumber);
  const { left, right } = spreadsOf(pages.length)[spreadOf(number)] ?? { left: null, right: null };
  const numbers = isSpread ? [left, right].filter((one) => one !== null) : [number];
  const shown = numbers.flatMap((one) => pages[one - 1] ?? []);
  const above = [
    { to: paths.title(titleId), name: title.value.name },
    { to: paths.file(titleId, fileId), name: words.titles.fileKind(file.kind, file.revisionNumber) },
    { to: paths.book(titleId, fileId), name: words.book.heading },
  ];
  const turning = (
    <>
      <PageTurning titleId={titleId} fileId={fileId} shown={numbers} pages={pages.length} isSpread={isSpread} />
      {file.kind === 'plates-input' && <SheetOfPage titleId={titleId} fileId={fileId} pageNumber={numbers[0] ?? 1} />}
    </>
  );
  return (
    <Page title={said.heading(numbers)} above={above} deeds={turning}>
      {shown.every(({ trimmed }) => trimmed === null) ? (
        <Notice tone="look" title={words.book.unreadable} />
      ) : (
        <Opened key={numbers.join()} titleId={titleId} fileId={fileId} pages={shown} compared={compared} />
      )}
    </Page>
  );
}

interface OpenedGiven {
  readonly titleId: string;
  readonly fileId: string;
  readonly pages: readonly BookPage[];
  readonly compared: Compared | null;
}

function Opened({ titleId, fileId, pages, compared }: OpenedGiven) {
  const isPaired = pages.some(({ pageNumber }) => dummyPageOf(compared, pageNumber) !== null);
  if (compared === null || !isPaired) {
    return <Bench titleId={titleId} fileId={fileId} dummyFile={null} laid={laidOf(pages, () => null)} findings={[]} />;
  }
  return <Against titleId={titleId} fileId={fileId} pages={pages} compared={compared} />;
}

function Against({ titleId, fileId, pages, compared }: OpenedGiven & { readonly compared: Compared }) {
  const { data: dummyPages } = useSuspenseQuery(pagesQuery(titleId, compared.dummy));
  const laid = laidOf(pages, ({ pageNumber }) => dummyPages[(dummyPageOf(compared, pageNumber) ?? 0) - 1] ?? null);
  const findings = compared.findings.filter(({ finding }) =>
    laid.pages.some(
      ({ revision, dummy }) =>
        finding.revisionPage === revision.pageNumber || (dummy !== null && finding.dummyPage === dummy.pageNumber),
    ),
  );
  return <Bench titleId={titleId} fileId={fileId} dummyFile={compared.dummy} laid={laid} findings={findings} />;
}

function dummyPageOf(compared: Compared | null, page: number): number | null {
  return compared?.pairs.find(({ revisionPage }) => revisionPage === page)?.dummyPage ?? null;
}
