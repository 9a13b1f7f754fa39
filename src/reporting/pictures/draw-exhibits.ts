import { Refusal, mmFromPx } from '../../model/index.ts';
import type { Finding, PageRaster } from '../../model/index.ts';
import { findingNumbers } from '../page-order.ts';
import type { ReportedFinding } from '../page-order.ts';
import type { ReportSubject } from '../report-subject.ts';
import { atOnce } from './at-once.ts';
import { CLOSE_UP_PX, closeUpPpi, closeUpRegion } from './close-up.ts';
import type { SizeMm } from './close-up.ts';
import { differenceMap } from './difference-map.ts';
import { drawSides } from './draw-sides.ts';
import { EXHIBIT_KINDS } from './exhibit-kinds.ts';
import type { Exhibit, Exhibits, Leaf, Shot, TakePicture } from './exhibit.ts';
import { cutRegion } from './rgb-picture.ts';
import type { RgbPicture } from './rgb-picture.ts';
import { shrinkTo } from './shrink.ts';

/** Pixels across a page in the strip, and the resolution it is drawn at before it is shrunk. */
const LEAF_PX = 240;
const LEAF_PPI = 40;

interface Pair {
  readonly dummyPage: number | null;
  readonly revisionPage: number | null;
}

/** How pictures are made: where they go, how many pairs of pages at once, and who wants to hear of it. */
export interface DrawingOrder {
  readonly take: TakePicture;
  readonly pairsAtOnce: number;
  readonly onProgress?: (progress: { readonly done: number; readonly total: number }) => void;
}

/**
 * Draws each pair of pages once at most twice a side (small for the strip, larger where findings are shown) and hands
 * every picture on as soon as it is made, so that no more than a few pages are held. A page that cannot be drawn leaves
 * its pictures out.
 */
export async function drawExhibits(subject: ReportSubject, order: DrawingOrder): Promise<Exhibits> {
  const { pages, findings } = subject.report;
  const groups = groupByPair(pages, findings);
  const drawn: Drawn = { numbers: findingNumbers(subject.report), exhibits: new Map() };
  let done = 0;
  const leaves = await atOnce(groups, order.pairsAtOnce, async (group) => {
    const leaf = await drawPair(subject, group, order.take, drawn);
    done += 1;
    order.onProgress?.({ done, total: groups.length });
    return leaf;
  });
  const sides = await drawSides(subject, order.take, order.pairsAtOnce);
  return { leaves: leaves.slice(0, pages.length), findings: drawn.exhibits, sides };
}

interface Drawn {
  readonly numbers: ReadonlyMap<string, number>;
  readonly exhibits: Map<string, Exhibit>;
}

interface Group {
  readonly pair: Pair;
  readonly findings: readonly ReportedFinding[];
}

/** One group for each pair of the report in its order, then those that only findings name. */
function groupByPair(pages: readonly Pair[], findings: readonly ReportedFinding[]): readonly Group[] {
  const key = ({ dummyPage, revisionPage }: Pair): string => `${dummyPage}/${revisionPage}`;
  const byPair = Map.groupBy(findings, key);
  byPair.delete(key({ dummyPage: null, revisionPage: null }));
  const groups: Group[] = [];
  for (const pair of pages) {
    groups.push({ pair, findings: byPair.get(key(pair)) ?? [] });
    byPair.delete(key(pair));
  }
  for (const rest of byPair.values()) if (rest[0] !== undefined) groups.push({ pair: rest[0], findings: rest });
  return groups;
}

async function drawPair(
  subject: ReportSubject,
  { pair, findings }: Group,
  take: TakePicture,
  { numbers, exhibits }: Drawn,
): Promise<Leaf> {
  const draw = async (side: 'dummy' | 'revision', ppi: number): Promise<PageRaster | null> =>
    isUnreadable(findings, side) ? null : drawOrNull(subject, side, pair[`${side}Page`], ppi);
  const shown = pair.revisionPage === null ? 'dummy' : 'revision';
  const small = await draw(shown, LEAF_PPI);
  const leaf = { shot: await takeLeaf(small, pair, take), sizeMm: sizeOf(small) };
  if (findings.length === 0) return leaf;

  const other = await draw(shown === 'dummy' ? 'revision' : 'dummy', LEAF_PPI);
  const paper = paperOf(leaf.sizeMm, sizeOf(other));
  if (paper === null) return leaf;
  const ppi = Math.max(...findings.map((finding) => closeUpPpi(closeUpRegion(finding, paper), paper)));
  const dummy = await draw('dummy', ppi);
  const revision = await draw('revision', ppi);
  // The small pages were rounded to a pixel of half a millimetre and more; these say the size better.
  const exactPaper = paperOf(sizeOf(dummy), sizeOf(revision)) ?? paper;
  for (const finding of findings) {
    const region = closeUpRegion(finding, exactPaper);
    const cut = async (page: PageRaster | null): Promise<RgbPicture | null> =>
      page === null ? null : shrinkTo(cutRegion(page, region), CLOSE_UP_PX);
    const sides = { dummy: await cut(dummy), revision: await cut(revision) };
    const name = `finding-${numbers.get(finding.id) ?? finding.id}`;
    exhibits.set(finding.id, { region, ...(await takeSides(finding, name, sides, take)) });
  }
  return leaf;
}

async function takeSides(
  finding: Finding,
  name: string,
  sides: { readonly dummy: RgbPicture | null; readonly revision: RgbPicture | null },
  take: TakePicture,
): Promise<Omit<Exhibit, 'region'>> {
  const give = async (side: string, picture: RgbPicture | null): Promise<Shot | null> => {
    if (picture === null) return null;
    const shot = { name: `${name}-${side}`, width: picture.width, height: picture.height };
    await take(shot, picture, 'close-up');
    return shot;
  };
  const mode = EXHIBIT_KINDS[finding.kind].difference;
  const { dummy, revision } = sides;
  const map = mode === 'none' || dummy === null || revision === null ? null : differenceMap({ dummy, revision }, mode);
  return {
    dummy: await give('dummy', dummy),
    revision: await give('revision', revision),
    difference: await give('difference', map),
  };
}

async function takeLeaf(page: PageRaster | null, pair: Pair, take: TakePicture): Promise<Shot | null> {
  if (page === null) return null;
  const picture = await shrinkTo(page, Math.round((LEAF_PX * Math.max(page.width, page.height)) / page.width));
  const name = pair.revisionPage === null ? `dummy-page-${pair.dummyPage}` : `revision-page-${pair.revisionPage}`;
  const shot = { name, width: picture.width, height: picture.height };
  await take(shot, picture, 'page');
  return shot;
}

function isUnreadable(findings: readonly Finding[], side: 'dummy' | 'revision'): boolean {
  return findings.some((finding) => finding.kind === 'page-unreadable' && finding.measured.file === side);
}

/** A page that is refused is left out; its finding says why. Anything else that is thrown is a bug and goes on. */
async function drawOrNull(
  subject: ReportSubject,
  side: 'dummy' | 'revision',
  pageNumber: number | null,
  ppi: number,
): Promise<PageRaster | null> {
  if (pageNumber === null) return null;
  try {
    return await subject.drawPage(side, pageNumber, ppi);
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}

function sizeOf(page: PageRaster | null): SizeMm | null {
  return page === null ? null : { width: mmFromPx(page.width, page.ppi), height: mmFromPx(page.height, page.ppi) };
}

function paperOf(one: SizeMm | null, other: SizeMm | null): SizeMm | null {
  if (one === null || other === null) return one ?? other;
  return { width: Math.max(one.width, other.width), height: Math.max(one.height, other.height) };
}
