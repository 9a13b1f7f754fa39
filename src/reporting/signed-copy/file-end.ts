import { Refusal } from '../../model/index.ts';

/** How a file's last cross-reference section is written, and where it begins; null where it is not where the file says. */
export type FileEnd = { readonly form: 'table' | 'stream'; readonly at: number } | null;

/** A file with bytes before its header counts its places from there, which programs read differently. */
const HEADER = '%PDF-';

/**
 * Where an update can be appended to a file. Null means that the file has to be written anew.
 *
 * @source ISO 32000-2 7.5.5, 7.5.6
 */
export function fileEnd(pdf: Buffer): FileEnd {
  if (pdf.toString('latin1', 0, HEADER.length) !== HEADER) return null;
  const keyword = pdf.lastIndexOf('startxref');
  const said = /^startxref\s+(\d{1,12})\s/.exec(pdf.toString('latin1', keyword, keyword + 40));
  if (keyword === -1 || said === null) return null;
  const at = Number(said[1]);
  if (at >= keyword) return null;
  const there = pdf.toString('latin1', at, at + 40);
  if (/^xref\s/.test(there)) return { form: 'table', at };
  return /^\d+\s+\d+\s+obj/.test(there) ? { form: 'stream', at } : null;
}

/**
 * A place in a file, if a classic cross-reference table can hold it: ten digits.
 *
 * @throws {Refusal} too-large: it cannot
 * @source ISO 32000-2 7.5.4
 */
export function requirePlace(at: number): number {
  if (at > 9_999_999_999) {
    throw new Refusal('too-large', { what: 'the copy', limit: 9_999_999_999, found: at, unit: 'bytes' });
  }
  return at;
}
