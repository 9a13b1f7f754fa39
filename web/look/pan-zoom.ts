/** How the pages lie under the window: what one mm of the page measures on the screen, and where its corner lies. */
export interface Place {
  /** CSS pixels a mm. */
  readonly scale: number;
  /** CSS pixels from the window's corner. */
  readonly x: number;
  readonly y: number;
}

/** A length and a height, of a window in CSS pixels or of a page in mm. */
export interface Size {
  readonly width: number;
  readonly height: number;
}

const MARGIN = 0.94;
const MOST_SCALE = 600;

/** The whole page in the middle of the window. */
export function wholePage(page: Size, window: Size): Place {
  const scale = MARGIN * Math.min(window.width / page.width, window.height / page.height);
  return { scale, x: (window.width - page.width * scale) / 2, y: (window.height - page.height * scale) / 2 };
}

/** Nearer or further by a factor; what lies under a point of the window stays there. */
export function zoomed(
  place: Place,
  factor: number,
  at: { readonly x: number; readonly y: number },
  page: Size,
  window: Size,
): Place {
  const least = wholePage(page, window).scale / 2;
  const scale = Math.max(least, Math.min(MOST_SCALE, place.scale * factor));
  const by = scale / place.scale;
  return { scale, x: at.x - (at.x - place.x) * by, y: at.y - (at.y - place.y) * by };
}

/** Moved by so many CSS pixels; a part of the page always stays in the window. */
export function moved(place: Place, by: { readonly x: number; readonly y: number }, page: Size, window: Size): Place {
  const held = (at: number, length: number, room: number): number => Math.max(40 - length, Math.min(room - 40, at));
  return {
    scale: place.scale,
    x: held(place.x + by.x, page.width * place.scale, window.width),
    y: held(place.y + by.y, page.height * place.scale, window.height),
  };
}

/** A box of the page, in mm, in the middle of the window with some of its surroundings. */
export function onBox(box: Size & { readonly x: number; readonly y: number }, page: Size, window: Size): Place {
  const around = 1.8;
  const whole = wholePage(page, window).scale;
  const wanted = Math.min(window.width / (box.width * around + 4), window.height / (box.height * around + 4));
  const scale = Math.max(whole, Math.min(wanted, whole * 12));
  return {
    scale,
    x: window.width / 2 - (box.x + box.width / 2) * scale,
    y: window.height / 2 - (box.y + box.height / 2) * scale,
  };
}
