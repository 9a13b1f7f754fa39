import { Refusal, type FailedCheck, type SignedFile } from '../../model/index.ts';
import type { SentFile, Tables } from '../catalogue/index.ts';
import { wholeBook } from '../files/whole-book.ts';

/**
 * A file as it is signed: its hash, its size, and each page's content hash in order. Pages that are laid over another file
 * are signed as the whole book that came of it, under the hash of its list of pages.
 *
 * @throws {Refusal} out-of-step: its pages were not read yet
 * @throws {Refusal} unreadable: a page could not be read, so that nobody can sign what it shows
 * @throws {Refusal} malformed: as `wholeBook`
 */
export async function signedFileOf(tables: Tables, file: SentFile): Promise<SignedFile> {
  const { name } = file;
  const book = await wholeBook(tables, file);
  if (book === null) {
    throw new Refusal('out-of-step', { what: 'the file to sign', named: name, current: 'not read yet' });
  }
  const hashes = book.pages.map(({ contentHash, unreadable }, index) => {
    if (contentHash !== null) return contentHash;
    throw new Refusal('unreadable', { file: name, reason: unreadable ?? 'it has no content', page: index + 1 });
  });
  return { sha256: book.sha256, bytes: book.bytes, pages: hashes };
}

/**
 * Whether a file is as a statement has it.
 *
 * @throws {Refusal} unproven: the hash, the size, the number of pages or the content of one is another
 * @throws {Refusal} as `signedFileOf`
 */
export async function requireSignedFile(tables: Tables, file: SentFile, signed: SignedFile): Promise<void> {
  const { sha256, bytes, pages } = await signedFileOf(tables, file);
  const checks: FailedCheck[] = [];
  const check = (name: string, expected: string, found: string): void => {
    if (expected !== found) checks.push({ name, expected, found });
  };
  check('subject-file', sha256, signed.sha256);
  check('subject-bytes', `${bytes} bytes`, `${signed.bytes} bytes`);
  check('subject-pages', `${pages.length} pages`, `${signed.pages.length} pages`);
  const other = pages.findIndex((hash, index) => hash !== signed.pages[index]);
  if (other >= 0 && pages.length === signed.pages.length) {
    check(`subject-page-${other + 1}`, pages[other] ?? '', signed.pages[other] ?? '');
  }
  if (checks.length > 0) throw new Refusal('unproven', { what: 'the subject of the statement', checks });
}
