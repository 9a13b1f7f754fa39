import { partOf, pictureOf, type BookPage } from '../book/queries.ts';
import type { Place, Size } from './pan-zoom.ts';
import { partsInSight } from './parts-in-sight.ts';
import { pictureWidth } from './picture-width.ts';

interface LayerGiven {
  readonly of: BookPage;
  /** In mm. */
  readonly page: Size;
  readonly place: Place;
  /** What is seen through, in CSS pixels. */
  readonly pane: Size;
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
/** From so many pixels of the screen for a mm on the parts in sight are drawn for themselves: 2.5 for one at 300 ppi. */
const PARTS_FROM_PX_PER_MM = 30;

/** A page's picture, laid where the window has it; from near, with the parts in sight drawn down to single pixels. */
export function PageLayer({ of, page, place, pane, alt, opacity, from, isDifference, mostPixels }: LayerGiven) {
  const ratio = window.devicePixelRatio;
  const wanted = pictureWidth(page.width, place.scale, ratio);
  const width = Math.min(wanted, mostPixels ?? wanted);
  const [shownWidth, shownHeight] = [page.width * place.scale, page.height * place.scale];
  const isNear = shownWidth / width > PIXELS_SHOW;
  const hasParts = mostPixels === undefined && place.scale * ratio > PARTS_FROM_PX_PER_MM;
  const own = of.trimmed ?? page;
  const parts = hasParts ? partsInSight(own, { ...place, scale: shownWidth / own.width }, pane) : [];
  return (
    <div
      className={`page-layer${isNear ? ' near' : ''}${isDifference ? ' difference' : ''}`}
      style={{
        width: shownWidth,
        height: shownHeight,
        transform: `translate(${place.x}px, ${place.y}px)`,
        opacity,
        ...(from === undefined ? {} : { clipPath: `inset(0 0 0 ${Math.max(0, from - place.x)}px)` }),
      }}
    >
      <img className="page-picture" src={pictureOf(of, width)} alt={alt} draggable={false} />
      {parts.map(({ column, row, x, y, width: across, height: down }) => (
        <img
          key={`${column},${row}`}
          className="page-part"
          src={partOf(of, column, row)}
          alt=""
          draggable={false}
          style={{
            left: x * shownWidth,
            top: y * shownHeight,
            width: across * shownWidth,
            height: down * shownHeight,
          }}
        />
      ))}
    </div>
  );
}
