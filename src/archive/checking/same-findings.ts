import type { Finding, FindingKind } from '../../model/index.ts';
import { SHEET_KINDS } from '../../model/index.ts';
import { overlap } from './places.ts';

/** A page of a later file by what it shows: its content hash, or its place in its blob where it has none. */
export interface ShownPage {
  readonly key: string;
  readonly sha256: string;
  readonly pageNumber: number;
}

/** A finding of one report, with the page of the later file on which it stands. */
export interface Appearance {
  readonly finding: Finding & { readonly id: string };
  /** Null where the later file has no page for it. */
  readonly page: ShownPage | null;
}

/** A finding that earlier reports have. */
export interface KnownFinding {
  readonly id: string;
  readonly identity: string;
  /** As it first appeared: what was agreed is what was seen there. */
  readonly first: Appearance;
  /** Keys of all pages on which it stands. */
  readonly pages: ReadonlySet<string>;
}

/** Two pages of later files that are to be held against each other. */
export interface PageQuestion {
  readonly before: ShownPage;
  readonly now: ShownPage;
}

/** Whether two pages show the same at the place of a finding, for each of the questions that were asked. */
export type ShowsTheSame = (question: PageQuestion, before: Finding, now: Finding) => boolean;

/** Findings whose boxes have less in common are not held against each other. */
const LEAST_OVERLAP = 0.3;
/** Measures of size and resolution that differ by less are the same. */
const SAME_SHARE = 0.02;
/** Places on sheets are measured to a few hundredths. */
const SAME_MM = 0.05;

/** A finding of the report that may be one that is known. */
interface Candidate {
  readonly now: Appearance;
  readonly known: KnownFinding;
  /** By how much it is preferred: equal content before equal looks, the same kind before another, then the overlap. */
  readonly rank: number;
  /** What has to be looked at before it is believed. */
  readonly question: PageQuestion | null;
}

/** The pairs of pages that have to be compared before `sameFindings` can decide; none twice. */
export function questionsOf(fresh: readonly Appearance[], known: readonly KnownFinding[]): readonly PageQuestion[] {
  const questions = candidatesOf(fresh, known).flatMap(({ question }) => question ?? []);
  return [...new Map(questions.map((question) => [questionKey(question), question])).values()];
}

/** Tells two questions apart. */
export function questionKey({ before, now }: PageQuestion): string {
  return `${before.key} ${now.key}`;
}

/**
 * Which findings of a report are findings that are known already: of the same kind, at the same place of the same page,
 * where the later file still shows what it showed when the finding was first seen.
 *
 * @returns by the finding's id in the report, the known one; each known one at most once
 */
export function sameFindings(
  fresh: readonly Appearance[],
  known: readonly KnownFinding[],
  showsTheSame: ShowsTheSame,
): ReadonlyMap<string, KnownFinding> {
  const result = new Map<string, KnownFinding>();
  const taken = new Set<string>();
  const candidates = [...candidatesOf(fresh, known)].sort((one, other) => other.rank - one.rank);
  for (const { now, known: before, question } of candidates) {
    if (result.has(now.finding.id) || taken.has(before.id)) continue;
    if (question !== null && !showsTheSame(question, before.first.finding, now.finding)) continue;
    result.set(now.finding.id, before);
    taken.add(before.id);
  }
  return result;
}

function candidatesOf(fresh: readonly Appearance[], known: readonly KnownFinding[]): readonly Candidate[] {
  const byPage = Map.groupBy(known, ({ first }) => first.finding.dummyPage);
  return fresh.flatMap((now) =>
    (byPage.get(now.finding.dummyPage) ?? []).flatMap((before) => candidateOf(now, before) ?? []),
  );
}

function candidateOf(now: Appearance, known: KnownFinding): Candidate | null {
  const { first } = known;
  const equalContent = now.page !== null && known.pages.has(now.page.key);
  const sameKind = now.finding.kind === first.finding.kind;
  const alike = sameKind ? likenessOf(first.finding, now.finding) : 0;
  // The book as a whole decides how a page is judged: on equal content a neighbouring kind is still the same difference.
  const common = overlap(first.finding.box, now.finding.box);
  const likeness = alike > 0 ? alike : equalContent && onPicturesOrType(first.finding, now.finding) ? common : 0;
  if (likeness < LEAST_OVERLAP) return null;
  const rank = (equalContent ? 4 : 0) + (sameKind ? 2 : 0) + likeness;
  if (equalContent || speaksForItself(now.finding)) return { now, known, rank, question: null };
  if (now.page === null || first.page === null || now.finding.kind === 'page-unreadable') return null;
  return { now, known, rank, question: { before: first.page, now: now.page } };
}

/** Whether both say something of a part of a page. */
function onPicturesOrType(one: Finding, other: Finding): boolean {
  return [one, other].every(({ kind, box }) => !kind.startsWith('page-') && box !== null);
}

/** Kinds of sheets whose figures do not say what is printed instead. */
const SHOWN_INSTEAD: readonly FindingKind[] = ['separation-doubled', 'separation-of-another-sheet'];

/** Kinds that are wholly told by the dummy's page and the figures: what the later page shows is no part of them. */
function speaksForItself({ kind, dummyPage, revisionPage, measured }: Finding): boolean {
  if (dummyPage === null && revisionPage === null) return true;
  if (kind === 'page-unreadable') return measured.file === 'dummy';
  // pages are cut out where they lie and with their inks put right, so that they say nothing of these; the figures do
  if (SHEET_KINDS.has(kind)) return !SHOWN_INSTEAD.includes(kind);
  return ['page-missing', 'page-moved', 'page-repeated', 'page-emptied'].includes(kind);
}

/** 0 where two findings of one kind cannot be the same, up to 1 where they say the same at the same place. */
function likenessOf(before: Finding, now: Finding): number {
  if (SHEET_KINDS.has(now.kind)) return saysTheSame(before, now) ? 1 : 0;
  switch (now.kind) {
    case 'page-moved':
    case 'page-turned':
    case 'page-outdated':
    case 'page-unreadable':
      return JSON.stringify(before.measured) === JSON.stringify(now.measured) ? 1 : 0;
    case 'page-repeated':
      return before.kind === now.kind &&
        before.measured.firstAt === now.measured.firstAt &&
        before.revisionPage === now.revisionPage
        ? 1
        : 0;
    case 'page-resized':
      return before.kind === now.kind && isNear(before.measured.revisionMm, now.measured.revisionMm) ? 1 : 0;
    case 'page-missing':
    case 'page-emptied':
    case 'page-added':
      return 1;
    case 'picture-coarse':
      if (before.kind !== now.kind || !isNear({ ppi: before.measured.ppi }, { ppi: now.measured.ppi })) return 0;
      return overlap(before.box, now.box);
    default:
      return overlap(before.box, now.box);
  }
}

/** Of sheets and plates: the same place, ink and page, and lengths that are measured alike. */
function saysTheSame(before: Finding, now: Finding): boolean {
  const [one, other]: Readonly<Record<string, unknown>>[] = [before.measured, now.measured];
  return Object.entries(one!).every(([name, value]) => {
    const found = other![name];
    if (typeof value !== 'number' || typeof found !== 'number') return value === found;
    if (name.endsWith('Mm') || name.endsWith('mm')) return Math.abs(value - found) <= SAME_MM;
    return name === 'rulingLpi' ? Math.abs(value - found) <= SAME_SHARE * value : value === found;
  });
}

function isNear<Name extends string>(
  one: Readonly<Record<Name, number>>,
  other: Readonly<Record<Name, number>>,
): boolean {
  return (Object.keys(one) as Name[]).every((name) => Math.abs(one[name] - other[name]) <= SAME_SHARE * one[name]);
}
