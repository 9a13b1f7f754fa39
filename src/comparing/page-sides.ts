import type { PageFacts, PageRaster } from '../model/index.ts';
import { halveRaster } from './page-colours.ts';
import type { VisiblePicture } from './pictures/visible-window.ts';
import { visiblePictures } from './pictures/visible-window.ts';

/** One side of a page comparison with what is worked out once for all its pictures. */
export interface PageSide {
  readonly facts: PageFacts;
  readonly raster: PageRaster;
  readonly pictures: readonly VisiblePicture[];
  /** The page at half the raster's resolution, for registering and judging large pictures; made when first asked for. */
  half(): PageRaster;
}

/** Prepares one side: the facts of a page and its raster at the analysis resolution. */
export function preparePage({ facts, raster }: { readonly facts: PageFacts; readonly raster: PageRaster }): PageSide {
  let half: PageRaster | null = null;
  return {
    facts,
    raster,
    pictures: visiblePictures(facts.pictures, facts.trimmed),
    half: () => (half ??= halveRaster(raster)),
  };
}
