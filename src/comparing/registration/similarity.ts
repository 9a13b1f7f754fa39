/**
 * How picture content on the dummy page lies on the revision page:
 * `p -> centre + scale * turn(p' - centre) + shift`, where p' is p mirrored about the vertical line through the centre if
 * `mirrored`. Lengths in the unit of the points (pixels of the raster, or mm).
 */
export interface Similarity {
  readonly centreX: number;
  readonly centreY: number;
  readonly scale: number;
  /** Clockwise as the page is looked at (y runs down). */
  readonly turnRad: number;
  readonly mirrored: boolean;
  readonly shiftX: number;
  readonly shiftY: number;
}

/** The map as six numbers: (x, y) -> (a x + c y + e, b x + d y + f). */
export type Affine = readonly [a: number, b: number, c: number, d: number, e: number, f: number];

/** The similarity that leaves everything in its place. */
export function standingStill(centreX: number, centreY: number): Similarity {
  return { centreX, centreY, scale: 1, turnRad: 0, mirrored: false, shiftX: 0, shiftY: 0 };
}

/** A similarity's six numbers. */
export function affineOf(map: Similarity): Affine {
  const cos = map.scale * Math.cos(map.turnRad);
  const sin = map.scale * Math.sin(map.turnRad);
  const flip = map.mirrored ? -1 : 1;
  const a = cos * flip;
  const b = sin * flip;
  const e = map.centreX + map.shiftX - a * map.centreX + sin * map.centreY;
  const f = map.centreY + map.shiftY - b * map.centreX - cos * map.centreY;
  return [a, b, -sin, cos, e, f];
}

/** Where a point of the dummy page lies on the revision page. */
export function mapPoint(m: Affine, x: number, y: number): readonly [x: number, y: number] {
  return [m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]];
}

/** The way back; the map must not be flat. */
export function invertAffine([a, b, c, d, e, f]: Affine): Affine {
  const det = a * d - b * c;
  return [d / det, -b / det, -c / det, a / det, (c * f - d * e) / det, (b * e - a * f) / det];
}

/** First `first`, then `second`. */
export function composeAffine(first: Affine, second: Affine): Affine {
  const [a, b, c, d, e, f] = first;
  const [p, q, r, s, t, u] = second;
  return [p * a + r * b, q * a + s * b, p * c + r * d, q * c + s * d, p * e + r * f + t, q * e + s * f + u];
}

/** The same map with lengths in another unit: every length times `factor`. */
export function rescaleSimilarity(map: Similarity, factor: number): Similarity {
  return {
    ...map,
    centreX: map.centreX * factor,
    centreY: map.centreY * factor,
    shiftX: map.shiftX * factor,
    shiftY: map.shiftY * factor,
  };
}

/** The same map told about another centre. */
export function recentre(map: Similarity, centreX: number, centreY: number): Similarity {
  const m = affineOf(map);
  const [x, y] = mapPoint(m, centreX, centreY);
  // mirroring about another vertical line moves the content, which the shift at the new centre already holds
  return { ...map, centreX, centreY, shiftX: x - centreX, shiftY: y - centreY };
}
