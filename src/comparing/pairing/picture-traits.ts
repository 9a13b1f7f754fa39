import { areaMm2, intersectBoxes } from '../../model/index.ts';
import type { Box, PlacedPicture } from '../../model/index.ts';

/** A page's picture data that the other file has too, with the area each shows. */
export interface PictureTraits {
  readonly areas: ReadonlyMap<string, number>;
  readonly total: number;
}

/**
 * Picture data of all pages of both files. Null where nothing of a page's data occurs in the other file: a conversion
 * wrote all data anew, which says nothing about which page is which.
 */
export function pictureTraits(
  files: readonly [readonly (readonly PlacedPicture[])[], readonly (readonly PlacedPicture[])[]],
): [(PictureTraits | null)[], (PictureTraits | null)[]] {
  const known = files.map(
    (file) => new Set(file.flatMap((pictures) => pictures.map(({ samplesHash }) => samplesHash))),
  );
  const traitsIn = (file: 0 | 1) =>
    files[file].map((pictures) => {
      const areas = new Map<string, number>();
      let total = 0;
      let shared = false;
      for (const { samplesHash, window } of pictures) {
        const area = Math.max(1, areaMm2(window));
        areas.set(samplesHash, (areas.get(samplesHash) ?? 0) + area);
        total += area;
        shared ||= known[1 - file]!.has(samplesHash);
      }
      return shared ? { areas, total } : null;
    });
  return [traitsIn(0), traitsIn(1)];
}

/** How unlike the picture data of two pages is, by area: 0 all in common, 1 nothing. The same with roles swapped. */
export function pictureUnlikeness(one: PictureTraits, other: PictureTraits): number {
  let common = 0;
  for (const [hash, area] of one.areas) common += Math.min(area, other.areas.get(hash) ?? 0);
  const all = one.total + other.total - common;
  return 1 - common / all;
}

/** Whether pictures stand in the same windows on both pages, whatever they show: nine tenths of their area in common. */
export function haveSameWindows(one: readonly PlacedPicture[], other: readonly PlacedPicture[]): boolean {
  if (one.length === 0 || other.length === 0) return false;
  return covers(one, other) >= 0.9 && covers(other, one) >= 0.9;
}

/** Share of the windows' area that has a window of nearly its own place on the other page. */
function covers(windows: readonly PlacedPicture[], others: readonly PlacedPicture[]): number {
  let all = 0;
  let met = 0;
  for (const { window } of windows) {
    const area = Math.max(1, areaMm2(window));
    all += area;
    if (others.some((other) => overlap(window, other.window) >= 0.9)) met += area;
  }
  return met / all;
}

function overlap(one: Box, other: Box): number {
  const common = intersectBoxes(one, other);
  if (common === null) return 0;
  const shared = areaMm2(common);
  return shared / (areaMm2(one) + areaMm2(other) - shared);
}
