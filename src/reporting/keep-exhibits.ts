import { keepBytes } from '../archive/index.ts';
import type { Archive, KeptExhibit, ReportToDraw } from '../archive/index.ts';
import type { Exhibits, Shot } from './pictures/exhibit.ts';

/** How exhibits of kept reports are drawn. */
export interface ExhibitsOrder {
  readonly archive: Pick<Archive, 'blobs' | 'catalogue'>;
  /** Pairs of pages that are drawn at the same time. */
  readonly pairsAtOnce: number;
  readonly now: () => number;
}

/**
 * Draws what shows the findings of a kept report and keeps it beside the report: each side of each finding, and where
 * they differ, cut alike. Of pages without findings nothing is drawn. Drawn again, the same stays.
 *
 * @returns how many pictures it has
 */
export async function keepExhibits({ archive, pairsAtOnce, now }: ExhibitsOrder, asked: ReportToDraw): Promise<number> {
  const { drawExhibits } = await import('./pictures/draw-exhibits.ts');
  const { encodeWebp } = await import('./pictures/shrink.ts');
  const { kept, report, dummy, file, drawPage, onProgress } = asked;
  const blobs = new Map<string, { readonly sha256: string; readonly bytes: number }>();
  const shown = new Set(report.findings.map(({ dummyPage, revisionPage }) => `${dummyPage}/${revisionPage}`));
  const pages = report.pages.filter(({ dummyPage, revisionPage }) => shown.has(`${dummyPage}/${revisionPage}`));
  const exhibits = await drawExhibits(
    { report: { ...report, pages }, names: { dummy: dummy.name, revision: file.name }, drawPage },
    {
      pairsAtOnce,
      onProgress,
      take: async (shot, picture, use) => {
        if (use === 'close-up') blobs.set(shot.name, await keepBytes(archive.blobs, await encodeWebp(picture)));
      },
    },
  );
  const rows = rowsOf(exhibits, blobs);
  await archive.catalogue.together(async (tables) => {
    for (const blob of blobs.values()) await tables.blobs.add({ ...blob, at: now() });
    await tables.pictures.addExhibits(kept.id, rows);
  });
  return rows.length;
}

function rowsOf(
  { findings }: Exhibits,
  blobs: ReadonlyMap<string, { readonly sha256: string }>,
): readonly KeptExhibit[] {
  return [...findings].flatMap(([mark, { region, ...shots }]) =>
    (['dummy', 'revision', 'difference'] as const).flatMap((side) => {
      const shot: Shot | null = shots[side];
      const blob = shot === null ? undefined : blobs.get(shot.name);
      if (shot === null || blob === undefined) return [];
      return [{ mark, side, region, widthPx: shot.width, heightPx: shot.height, sha256: blob.sha256 }];
    }),
  );
}
