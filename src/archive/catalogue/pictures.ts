import type { Box } from '../../model/index.ts';
import type { Access } from './access.ts';
import type { Row } from './row.ts';
import { numberIn, textIn, wordIn } from './row.ts';

/** A picture that shows a finding of a report on one side, or what differs. */
export interface KeptExhibit {
  /** The finding's id within the report. */
  readonly mark: string;
  readonly side: 'dummy' | 'revision' | 'difference';
  /** What is shown, in mm of the page as it will be trimmed. */
  readonly region: Box;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly sha256: string;
}
const SIDES: readonly KeptExhibit['side'][] = ['dummy', 'revision', 'difference'];

/** A page drawn for people, by what it shows. */
export interface KeptPagePicture {
  readonly contentHash: string;
  readonly widthPx: number;
  readonly heightPx: number;
  /** What drew it, with versions. */
  readonly renderer: string;
  readonly sha256: string;
}

/** Pictures that were drawn; their bytes are blobs. */
export interface Pictures {
  /** All exhibits of a report at once; told again, the first ones stay. */
  addExhibits(reportId: string, exhibits: readonly KeptExhibit[]): Promise<void>;
  /** By mark and side. */
  exhibits(reportId: string): Promise<readonly KeptExhibit[]>;
  /** Told again, the first one stays. */
  addPage(picture: KeptPagePicture): Promise<void>;
  page(asked: Pick<KeptPagePicture, 'contentHash' | 'widthPx' | 'renderer'>): Promise<KeptPagePicture | null>;
}

const ONE_PAGE = 'content_hash = :contentHash AND width_px = :widthPx AND renderer = :renderer';

/** The tables of exhibits and of pictures of pages. */
export function picturesIn(access: Access): Pictures {
  return {
    addExhibits: (reportId, exhibits) =>
      access.write((database) => {
        for (const { mark, side, region, widthPx, heightPx, sha256 } of exhibits) {
          const { x, y, width, height } = region;
          database.run(
            `INSERT INTO exhibit (report_id, mark, side, x_mm, y_mm, width_mm, height_mm, width_px, height_px, blob)
             SELECT :reportId, :mark, :side, :x, :y, :width, :height, :widthPx, :heightPx, :sha256 WHERE NOT EXISTS
               (SELECT 1 FROM exhibit WHERE report_id = :reportId AND mark = :mark AND side = :side)`,
            { reportId, mark, side, x, y, width, height, widthPx, heightPx, sha256 },
          );
        }
      }),
    exhibits: (reportId) =>
      access.read((database) =>
        database
          .all('SELECT * FROM exhibit WHERE report_id = :reportId ORDER BY mark, side', { reportId })
          .map(exhibitOf),
      ),
    addPage: (picture) =>
      access.write(
        (database) =>
          void database.run(
            `INSERT INTO page_picture (content_hash, width_px, height_px, renderer, blob)
             SELECT :contentHash, :widthPx, :heightPx, :renderer, :sha256
             WHERE NOT EXISTS (SELECT 1 FROM page_picture WHERE ${ONE_PAGE})`,
            { ...picture },
          ),
      ),
    page: ({ contentHash, widthPx, renderer }) =>
      access.read((database) => {
        const row = database.one(`SELECT * FROM page_picture WHERE ${ONE_PAGE}`, { contentHash, widthPx, renderer });
        if (row === null) return null;
        return { contentHash, widthPx, renderer, heightPx: numberIn(row, 'height_px'), sha256: textIn(row, 'blob') };
      }),
  };
}

function exhibitOf(row: Row): KeptExhibit {
  return {
    mark: textIn(row, 'mark'),
    side: wordIn(row, 'side', SIDES),
    region: {
      x: numberIn(row, 'x_mm'),
      y: numberIn(row, 'y_mm'),
      width: numberIn(row, 'width_mm'),
      height: numberIn(row, 'height_mm'),
    },
    widthPx: numberIn(row, 'width_px'),
    heightPx: numberIn(row, 'height_px'),
    sha256: textIn(row, 'blob'),
  };
}
