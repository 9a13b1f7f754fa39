import type { Instant, Party, Sha256 } from '../../model/index.ts';
import type { CopyOrder, Signatory } from './copy-order.ts';

/** What stands in one page's slug: three columns of short paragraphs, the first of all the heaviest, and the code's text. */
export interface SlugWords {
  readonly columns: readonly [readonly string[], readonly string[], readonly string[]];
  readonly code: string;
}

/** Who signed, and from when on the dummy is in force; null where it is yet to be signed, in ink. */
export type SlugSigned = { readonly since: Instant; readonly by: readonly Signatory[] } | null;

export const FOR_PARTY: Readonly<Record<Party, string>> = {
  publisher: 'For the publisher',
  printer: 'For the printer',
};

/** The longest that a name may be in the code, in bytes of UTF-8; in the slug and on the certificate it stands in full. */
const CODE_BYTES = { title: 40, part: 24, person: 30 };

/** The words of one page's slug; `pageNumber` from 1. */
export function slugWords(order: CopyOrder, signed: SlugSigned, pageNumber: number): SlugWords {
  const { title, part, file, at } = order;
  const count = file.pages.length;
  const digits = firstDigits(file.pages[pageNumber - 1] ?? '');
  const where = [title, part, `Page ${pageNumber} of ${count}`];
  const code = [shortened(title, CODE_BYTES.title), shortened(part, CODE_BYTES.part), `page ${pageNumber} of ${count}`];
  const content = `Content ${inFours(digits)}`;
  if (signed === null) {
    return {
      columns: [
        where,
        [content, `Of the file ${inFours(firstDigits(file.sha256))}`],
        [`Print copy of ${longDate(at)}`, `To be signed behind page\u00a0${count}`],
      ],
      code: ['WITNESS LEAF', ...code, digits, `print copy ${day(at)}, not signed`].join('\n'),
    };
  }
  const log = `log: ${signed.by.map(({ logIndex }) => logIndex).join(', ')}`;
  return {
    columns: [
      where,
      [content, `In force since ${longDate(signed.since)}`, `Statements in the ${log}`],
      signed.by.map((one) => `${FOR_PARTY[one.party]}, ${longDate(one.at)}: ${one.name}, ${one.organisation}`),
    ],
    code: [
      'WITNESS LEAF',
      ...code,
      digits,
      `in force ${day(signed.since)}, ${log}`,
      ...signed.by.map(({ name, at: when }) => `${shortened(name, CODE_BYTES.person)} ${day(when)}`),
    ].join('\n'),
  };
}

/** The first 16 digits of a hash: 64 bits, enough to find a page by and not enough to prove one. */
function firstDigits(hash: Sha256): string {
  return hash.slice(0, 16);
}

/** Digits in groups that are not parted at the end of a line. */
function inFours(digits: string): string {
  return digits.replace(/.{4}(?!$)/g, '$&\u00a0');
}

const MONTHS = 'January,February,March,April,May,June,July,August,September,October,November,December'.split(
  ',',
) as readonly string[];

/** A day in words, in UTC: 25 November 2026. */
export function longDate(instant: Instant): string {
  return `${Number(instant.slice(8, 10))}\u00a0${MONTHS[Number(instant.slice(5, 7)) - 1] ?? ''}\u00a0${instant.slice(0, 4)}`;
}

function day(instant: Instant): string {
  return instant.slice(0, 10);
}

/** A text of at most so many bytes, cut between characters as people see them. */
function shortened(text: string, bytes: number): string {
  const size = (some: string): number => new TextEncoder().encode(some).length;
  if (size(text) <= bytes) return text;
  let kept = '';
  for (const { segment } of new Intl.Segmenter('en').segment(text)) {
    if (size(`${kept}${segment}…`) > bytes) break;
    kept += segment;
  }
  return `${kept.trimEnd()}…`;
}
