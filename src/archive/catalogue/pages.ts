import type { Access } from './access.ts';
import type { Row } from './row.ts';
import { bytesIn, numberIn, textIn, textOrNullIn } from './row.ts';

/** A page of a blob: its content hash and trimmed size, or why it could not be read. */
export type KeptPage =
  | { readonly pageNumber: number; readonly contentHash: string; readonly widthMm: number; readonly heightMm: number }
  | { readonly pageNumber: number; readonly unreadable: string };

interface FactKey {
  /** Of the page that the fact is about. */
  readonly contentHash: string;
  /** What kind of result, such as 'facts'. */
  readonly kind: string;
  /** SHA-256 of all else that the result depends on. */
  readonly terms: string;
}

/** What is known of pages, kept for good: the same bytes have the same pages. */
export interface Pages {
  /** All pages of a blob at once; told again, it changes nothing. */
  add(reading: { readonly sha256: string; readonly pages: readonly KeptPage[]; readonly at: number }): Promise<void>;
  /** Null where the blob was not read yet. */
  ofBlob(sha256: string): Promise<readonly KeptPage[] | null>;
  /** Where a page with this content occurs. */
  withContent(contentHash: string): Promise<readonly { readonly sha256: string; readonly pageNumber: number }[]>;
  /** Keeps a result that cost time; the first one stays. */
  keepFact(fact: FactKey & { readonly bytes: Uint8Array }): Promise<void>;
  fact(key: FactKey): Promise<Uint8Array | null>;
}

const ONE_FACT = 'content_hash = :contentHash AND kind = :kind AND terms = :terms';

/** The tables of readings, pages and kept results. */
export function pagesIn(access: Access): Pages {
  return {
    add: ({ sha256, pages, at }) =>
      access.write((database) => {
        if (database.one('SELECT 1 FROM reading WHERE blob = :sha256', { sha256 }) !== null) return;
        database.run('INSERT INTO reading (blob, pages, at_ms) VALUES (:sha256, :pages, :at)', {
          sha256,
          pages: pages.length,
          at,
        });
        for (const page of pages) {
          database.run(
            `INSERT INTO page (blob, page_number, content_hash, width_mm, height_mm, unreadable)
             VALUES (:sha256, :pageNumber, :contentHash, :widthMm, :heightMm, :unreadable)`,
            { sha256, contentHash: null, widthMm: null, heightMm: null, unreadable: null, ...page },
          );
        }
      }),
    ofBlob: (sha256) =>
      access.read((database) => {
        if (database.one('SELECT 1 FROM reading WHERE blob = :sha256', { sha256 }) === null) return null;
        return database.all('SELECT * FROM page WHERE blob = :sha256 ORDER BY page_number', { sha256 }).map(pageOf);
      }),
    withContent: (contentHash) =>
      access.read((database) =>
        database
          .all('SELECT blob, page_number FROM page WHERE content_hash = :contentHash ORDER BY blob, page_number', {
            contentHash,
          })
          .map((row) => ({ sha256: textIn(row, 'blob'), pageNumber: numberIn(row, 'page_number') })),
      ),
    keepFact: (fact) =>
      access.write(
        (database) =>
          void database.run(
            `INSERT INTO page_fact (content_hash, kind, terms, fact) SELECT :contentHash, :kind, :terms, :bytes
             WHERE NOT EXISTS (SELECT 1 FROM page_fact WHERE ${ONE_FACT})`,
            { ...fact },
          ),
      ),
    fact: (key) =>
      access.read((database) => {
        const row = database.one(`SELECT fact FROM page_fact WHERE ${ONE_FACT}`, { ...key });
        return row && bytesIn(row, 'fact');
      }),
  };
}

function pageOf(row: Row): KeptPage {
  const pageNumber = numberIn(row, 'page_number');
  const unreadable = textOrNullIn(row, 'unreadable');
  if (unreadable !== null) return { pageNumber, unreadable };
  return {
    pageNumber,
    contentHash: textIn(row, 'content_hash'),
    widthMm: numberIn(row, 'width_mm'),
    heightMm: numberIn(row, 'height_mm'),
  };
}
