import type { Finding, FindingOf, PageDescription, PlacedPicture, Tolerances } from '../../model/index.ts';
import { visiblePictures } from './visible-window.ts';

/** A revision page, the dummy page that it is, and whether their content is the same. */
export interface PageForPress {
  readonly page: Pick<PageDescription, 'pageNumber' | 'pictures' | 'trimmed'>;
  readonly dummyPage: number | null;
  readonly sameContent: boolean;
}

/** Rounding of a placement must not make 200 ppi a coarse picture of 200. */
const LEAVE = 0.99;

/**
 * Pictures of the revision whose effective resolution is under the limit. Where most pictures are, the file is a
 * low-resolution one by intent: one note says so; unless plates are about to be made of it.
 */
export function tellCoarsePictures(
  pages: readonly PageForPress[],
  purpose: 'compare' | 'plates',
  tolerances: Tolerances,
): readonly Finding[] {
  const pictures = pages.flatMap((page) =>
    visiblePictures(page.page.pictures, page.page.trimmed)
      .filter(({ picture }) => picture.bitsPerComponent > 1)
      .map(({ picture }) => ({ page, picture })),
  );
  const coarse = pictures.filter(({ picture }) => picture.effectivePpi < LEAVE * tolerances.coarsePpi);
  if (coarse.length === 0) return [];
  const byIntent = coarse.length > pictures.length / 2;
  if (byIntent && purpose === 'compare') return [lowResolutionFile(coarse, pictures.length, tolerances)];
  return coarse
    .filter(({ page }) => !page.sameContent)
    .map(({ page, picture }) => coarsePicture(page, picture, purpose, tolerances));
}

function coarsePicture(
  { page, dummyPage }: PageForPress,
  picture: PlacedPicture,
  purpose: 'compare' | 'plates',
  { coarsePpi }: Tolerances,
): FindingOf<'picture-coarse'> {
  return {
    kind: 'picture-coarse',
    weight: purpose === 'plates' ? 'stop' : 'look',
    dummyPage,
    revisionPage: page.pageNumber,
    box: dummyPage === null ? null : picture.window,
    revisionBox: picture.window,
    measured: { ppi: picture.effectivePpi, limitPpi: coarsePpi },
    says: `The picture has ${picture.effectivePpi.toFixed(0)} ppi at its size; at least ${coarsePpi} are wanted for press. Was the placeholder never exchanged?`,
  };
}

function lowResolutionFile(
  coarse: readonly { readonly picture: PlacedPicture }[],
  pictures: number,
  { coarsePpi }: Tolerances,
): FindingOf<'picture-coarse'> {
  const sorted = coarse.map(({ picture }) => picture.effectivePpi).sort((one, other) => one - other);
  const median = sorted[sorted.length >> 1]!;
  return {
    kind: 'picture-coarse',
    weight: 'note',
    dummyPage: null,
    revisionPage: null,
    box: null,
    revisionBox: null,
    measured: { ppi: median, limitPpi: coarsePpi },
    says: `This is a low-resolution file: ${coarse.length} of ${pictures} pictures are under ${coarsePpi} ppi (${median.toFixed(0)} ppi in the middle). It is not fit for plates.`,
  };
}
