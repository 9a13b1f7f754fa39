/**
 * Units and spaces. The tags are optional, so that plain arithmetic stays readable while a length in points
 * handed over as millimetres still fails to compile.
 */
declare const unit: unique symbol;

/** Millimetres. */
export type Mm = number & { readonly [unit]?: 'mm' };
/** PDF points at UserUnit 1: 1/72 inch. */
export type Pt = number & { readonly [unit]?: 'pt' };
/** Pixels of a raster. */
export type Px = number & { readonly [unit]?: 'px' };
/** Pixels an inch. */
export type Ppi = number & { readonly [unit]?: 'ppi' };
/** Degrees, clockwise positive as the page is looked at. */
export type Deg = number & { readonly [unit]?: 'deg' };

/** A box on the page as trimmed: mm from the TrimBox's top left corner, x to the right, y down. */
export interface Box {
  readonly x: Mm;
  readonly y: Mm;
  readonly width: Mm;
  readonly height: Mm;
}

/** A point on the page as trimmed: mm from the TrimBox's top left corner, x to the right, y down. */
export interface PagePoint {
  readonly x: Mm;
  readonly y: Mm;
}

/**
 * An affine map (x, y) -> (a x + c y + e, b x + d y + f), as ISO 32000-2 8.3.3 writes its six numbers.
 */
export type Matrix = readonly [a: number, b: number, c: number, d: number, e: number, f: number];

export const MM_PER_INCH = 25.4;
export const PT_PER_INCH = 72;

/** Points to millimetres. @source ISO 32000-2 8.3.2.3: a default user space unit is 1/72 inch */
export function mmFromPt(length: Pt, userUnit = 1): Mm {
  return (length * userUnit * MM_PER_INCH) / PT_PER_INCH;
}

/** Millimetres to pixels at a resolution; not rounded. */
export function pxFromMm(length: Mm, resolution: Ppi): Px {
  return (length * resolution) / MM_PER_INCH;
}

/** Pixels at a resolution to millimetres. */
export function mmFromPx(length: Px, resolution: Ppi): Mm {
  return (length * MM_PER_INCH) / resolution;
}

/** Area of a box in square millimetres; never negative. */
export function areaMm2(box: Box): number {
  return Math.max(0, box.width) * Math.max(0, box.height);
}

/** What two boxes share, or null where they share no area. */
export function intersectBoxes(one: Box, other: Box): Box | null {
  const x = Math.max(one.x, other.x);
  const y = Math.max(one.y, other.y);
  const right = Math.min(one.x + one.width, other.x + other.width);
  const bottom = Math.min(one.y + one.height, other.y + other.height);
  return right > x && bottom > y ? { x, y, width: right - x, height: bottom - y } : null;
}

/** The smallest box around both. */
export function uniteBoxes(one: Box, other: Box): Box {
  const x = Math.min(one.x, other.x);
  const y = Math.min(one.y, other.y);
  return {
    x,
    y,
    width: Math.max(one.x + one.width, other.x + other.width) - x,
    height: Math.max(one.y + one.height, other.y + other.height) - y,
  };
}
