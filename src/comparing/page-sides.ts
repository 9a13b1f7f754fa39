import type { PageFacts, PageRaster } from '../model/index.ts';
import type { ColourField } from './page-colours.ts';
import { colourField, halveRaster } from './page-colours.ts';
import type { VisiblePicture } from './pictures/visible-window.ts';
import { visiblePictures } from './pictures/visible-window.ts';

/** One side of a page comparison with what is worked out once for all its pictures. */
export interface PageSide {
  readonly facts: PageFacts;
  readonly raster: PageRaster;
  readonly pictures: readonly VisiblePicture[];
  /** The page at half the raster's resolution, for judging colours. */
  readonly half: PageRaster;
  readonly halfColours: ColourField;
}

/** Prepares one side: the facts of a page and its raster at the analysis resolution. */
export function preparePage({ facts, raster }: { readonly facts: PageFacts; readonly raster: PageRaster }): PageSide {
  const half = halveRaster(raster);
  return {
    facts,
    raster,
    pictures: visiblePictures(facts.pictures, facts.trimmed),
    half,
    halfColours: colourField(half, { left: 0, top: 0, width: half.width, height: half.height }),
  };
}
