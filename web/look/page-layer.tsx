import { pictureOf, type BookPage } from '../book/queries.ts';
import type { Place, Size } from './pan-zoom.ts';
import { pictureWidth } from './picture-width.ts';

interface LayerGiven {
  readonly of: BookPage;
  /** In mm. */
  readonly page: Size;
  readonly place: Place;
  readonly alt: string;
  readonly opacity: number;
  /** Shown only right of this, in CSS pixels of the window. */
  readonly from: number | undefined;
  readonly isDifference: boolean;
  /** At most so many pixels wide, for looking at a like resolution. */
  readonly mostPixels: number | undefined;
}

/** Beyond so many CSS pixels for one of the picture's, its pixels are shown as what they are. */
const PIXELS_SHOW = 3;

/** A page's picture, laid where the window has it. */
export function PageLayer({ of, page, place, alt, opacity, from, isDifference, mostPixels }: LayerGiven) {
  const wanted = pictureWidth(page.width, place.scale, window.devicePixelRatio);
  const width = Math.min(wanted, mostPixels ?? wanted);
  const isNear = (page.width * place.scale) / width > PIXELS_SHOW;
  const [shownWidth, shownHeight] = [page.width * place.scale, page.height * place.scale];
  return (
    <img
      className={`page-layer${isNear ? ' near' : ''}${isDifference ? ' difference' : ''}`}
      src={pictureOf(of, width)}
      alt={alt}
      draggable={false}
      style={{
        width: shownWidth,
        height: shownHeight,
        transform: `translate(${place.x}px, ${place.y}px)`,
        opacity,
        ...(from === undefined ? {} : { clipPath: `inset(0 0 0 ${Math.max(0, from - place.x)}px)` }),
      }}
    />
  );
}
