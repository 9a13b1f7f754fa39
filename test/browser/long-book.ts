import { createHash } from 'node:crypto';
import sharp from 'sharp';
import { keepReport } from '../../src/archive/checking/keep-report.ts';
import { termsFor } from '../../src/archive/checking/check-terms.ts';
import { bookPages, keepBytes, PAGE_RENDERER } from '../../src/archive/index.ts';
import type { CheckingOrder } from '../../src/archive/checking/checking-order.ts';
import { DEFAULT_TOLERANCES } from '../../src/model/index.ts';
import type { Finding, Report } from '../../src/model/index.ts';
import { formatReport } from '../../src/reporting/index.ts';
import { done, type PeopledService } from '../service/peopled-service.ts';

/** Pages of a long photo book. */
export const LONG = 320;

const SIZE = { widthMm: 240, heightMm: 300 };
const hash = (text: string): string => createHash('sha256').update(text).digest('hex');

/**
 * Puts a book of 320 pages and a revision with a finding on each into the catalogue, as reading, comparing and drawing
 * would leave them; only the files themselves are none, since nobody reads them.
 */
export async function plantLongBook({ archive, printer, ids }: PeopledService): Promise<{
  readonly dummy: string;
  readonly revision: string;
}> {
  const { catalogue, blobs } = archive;
  const at = 1;
  const colour = { r: 120, g: 140, b: 130 };
  const drawn = await sharp({ create: { width: 640, height: 800, channels: 3, background: colour } })
    .webp()
    .toBuffer();
  const picture = await keepBytes(blobs, drawn);
  await catalogue.blobs.add({ ...picture, at });
  const send = async (kind: string): Promise<string> => {
    const bytes = Buffer.from(`%PDF-1.7 ${kind}`);
    const headers = { 'Content-Digest': `sha-256=:${createHash('sha256').update(bytes).digest('base64')}:` };
    const path = `/api/parts/${ids.part}/files/${kind}.pdf?${new URLSearchParams({ kind, remark: '' }).toString()}`;
    const { id } = (await done(printer.send('PUT', path, bytes, headers), 201)) as { id: string };
    return id;
  };
  const [dummyId, revisionId] = [await send('dummy'), await send('revision')];
  const [dummy, file] = [await catalogue.files.get(dummyId), await catalogue.files.get(revisionId)];
  if (dummy === null || file === null) throw new Error('the files did not arrive');
  for (const { sha256, kind } of [dummy, file]) {
    const pages = Array.from({ length: LONG }, (_, index) => ({
      ...{ pageNumber: index + 1, contentHash: hash(`${kind} ${index}`), ...SIZE },
    }));
    await catalogue.pages.add({ sha256, pages, at });
    await catalogue.together(async (tables) => {
      for (const { contentHash } of pages) {
        for (const widthPx of [160, 320, 640]) {
          const kept = { contentHash, widthPx, heightPx: widthPx * 1.25, renderer: PAGE_RENDERER };
          await tables.pictures.addPage({ ...kept, sha256: picture.sha256 });
        }
      }
    });
  }
  const pages = (await bookPages(catalogue, file)) ?? [];
  const report = reportOn(dummy.sha256, file.sha256);
  const order = { formatReport, now: () => at } as unknown as CheckingOrder;
  const comparison = { dummy, file, pages, terms: termsFor(file, DEFAULT_TOLERANCES) };
  const { id } = await keepReport(archive, order, {
    comparison,
    report,
    folded: null,
    signal: new AbortController().signal,
  });
  const region = { x: 20, y: 40, width: 100, height: 80 };
  const exhibits = report.findings.flatMap(({ id: mark }) =>
    (['dummy', 'revision', 'difference'] as const).map((side) => ({
      ...{ mark, side, region, widthPx: 640, heightPx: 800, sha256: picture.sha256 },
    })),
  );
  await catalogue.pictures.addExhibits(id, exhibits);
  return { dummy: dummyId, revision: revisionId };
}

function reportOn(dummy: string, revision: string): Report {
  const numbers = Array.from({ length: LONG }, (_, index) => index + 1);
  const box = { x: 20, y: 40, width: 100, height: 80 };
  return {
    format: 'witnessleaf-report/1',
    dummy: { sha256: dummy, bytes: 1, pages: LONG },
    revision: { sha256: revision, bytes: 1, pages: LONG },
    tolerances: DEFAULT_TOLERANCES,
    pages: numbers.map((page) => ({ dummyPage: page, revisionPage: page, state: 'differs' })),
    findings: numbers.map((page): Finding & { id: string } => ({
      ...{ id: `f${page}`, kind: 'text-changed', weight: 'look', dummyPage: page, revisionPage: page },
      ...{ box, revisionBox: box, measured: { before: 'quay', after: 'pier' } },
      says: `On page ${page} “quay” became “pier”.`,
    })),
    verdict: 'differs',
    renderer: PAGE_RENDERER,
    cautions: [],
  };
}
