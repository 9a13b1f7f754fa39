import type { Box, Finding, PageRaster, Tolerances } from '../model/index.ts';
import { mmFromPx, uniteBoxes } from '../model/index.ts';
import { labFromLight, lightOfLevel } from './colour/lab.ts';
import type { ColourMap } from './conversion/colour-map.ts';
import { couldBeConverted } from './conversion/plausible-step.ts';
import { mapColours } from './kernels/colour-map.ts';
import { placesApart } from './kernels/rows.ts';
import type { PageSide } from './page-sides.ts';
import type { Patch } from './regions/connected.ts';
import { findPatches, STRONG, WEAK } from './regions/connected.ts';
import { growBox, uncovered } from './regions/cover.ts';
import { formatMm } from './pictures/picture-sentences.ts';

/**
 * Everything visible outside the explained places: rules, tints, map lines, stamps. A pixel differs when its colour is not
 * found, after the book's conversion, among its neighbours on the other page: so a line may sit a pixel off, and no more.
 *
 * @param explained  places that pictures and text account for, on either page, mm
 */
export function compareArtwork(
  sides: { readonly dummy: PageSide; readonly revision: PageSide },
  explained: readonly Box[],
  conversion: ColourMap,
  tolerances: Tolerances,
): readonly Finding[] {
  const { dummy, revision } = sides;
  const { ppi } = dummy.raster;
  const pixelMm2 = mmFromPx(1, ppi) ** 2;
  const patches = changedPatches(sides, explained, conversion, tolerances);
  return gather(patches, mmFromPx(1, ppi)).map(({ box, cells }) => {
    const areaMm2 = cells * pixelMm2;
    return {
      kind: 'artwork-changed',
      weight: 'stop',
      dummyPage: dummy.facts.pageNumber,
      revisionPage: revision.facts.pageNumber,
      box,
      revisionBox: box,
      measured: { areaMm2 },
      says: `Something drawn on the page changed: ${areaMm2.toFixed(1)} mm² in a place of ${formatMm(box.width)} by ${formatMm(box.height)}, ${formatMm(box.x)} from the left and ${formatMm(box.y)} from the top.`,
    };
  });
}

/** Patches of pixels that differ outside the explained places, each large enough to be told; in pixels of the rasters. */
export function changedPatches(
  { dummy, revision }: { readonly dummy: PageSide; readonly revision: PageSide },
  explained: readonly Box[],
  conversion: ColourMap,
  tolerances: Tolerances,
): readonly Patch[] {
  const width = Math.min(dummy.raster.width, revision.raster.width);
  const height = Math.min(dummy.raster.height, revision.raster.height);
  const { ppi } = dummy.raster;
  const open = uncovered({ left: 0, top: 0, width, height }, ppi, explained);
  const marks = markDifferences(dummy.raster, revision.raster, open, { width, height }, conversion, tolerances);
  if (marks === null) return [];
  const pixelMm2 = mmFromPx(1, ppi) ** 2;
  return findPatches(marks, width, height, 2).filter(({ cells }) => cells * pixelMm2 >= tolerances.artworkMm2);
}

/** Places closer than this belong to one change. */
const ONE_CHANGE_MM = 4;

function gather(patches: readonly Patch[], cellMm: number): readonly { box: Box; cells: number }[] {
  const places: { box: Box; cells: number }[] = patches.map((patch) => ({
    box: {
      x: patch.left * cellMm,
      y: patch.top * cellMm,
      width: (patch.right - patch.left) * cellMm,
      height: (patch.bottom - patch.top) * cellMm,
    },
    cells: patch.cells,
  }));
  for (let merged = true; merged;) {
    merged = false;
    for (let i = 0; i < places.length && !merged; i++) {
      for (let j = i + 1; j < places.length; j++) {
        if (!near(places[i]!.box, places[j]!.box)) continue;
        const cells = places[i]!.cells + places[j]!.cells;
        places[i] = { box: uniteBoxes(places[i]!.box, places[j]!.box), cells };
        places.splice(j, 1);
        merged = true;
        break;
      }
    }
  }
  return places;
}

function near(one: Box, other: Box): boolean {
  const grown = growBox(one, ONE_CHANGE_MM);
  return (
    other.x < grown.x + grown.width &&
    other.x + other.width > grown.x &&
    other.y < grown.y + grown.height &&
    other.y + other.height > grown.y
  );
}

/** Steps of 8 levels a channel: finer than any threshold of this check. */
const SHADES = 32;

interface Tables {
  /** L*, a*, b* of each of the 32 x 32 x 32 shades. */
  readonly plain: Float32Array;
  readonly converted: Float32Array;
  /** How far each shade is from grey: the length of its a* and b*. */
  readonly chroma: Float64Array;
}

/** The tables of the conversion asked for last: all pages of a book share one, and it takes as long as a page. */
let last: { readonly conversion: ColourMap; readonly tables: Tables } | null = null;

let shades: Pick<Tables, 'plain' | 'chroma'> | null = null;

function tablesOf(conversion: ColourMap): Tables {
  shades ??= tabulateShades();
  if (last?.conversion.every((value, index) => value === conversion[index])) return last.tables;
  const { plain } = shades;
  const converted = mapColours(conversion, plain);
  for (let at = 0; at < plain.length; at += 3) {
    if (couldBeConverted(plain, converted, at)) continue;
    for (let channel = at; channel < at + 3; channel++) converted[channel] = plain[channel]!;
  }
  last = { conversion, tables: { ...shades, converted } };
  return last.tables;
}

function tabulateShades(): Pick<Tables, 'plain' | 'chroma'> {
  const plain = new Float32Array(SHADES ** 3 * 3);
  const chroma = new Float64Array(SHADES ** 3);
  // each level of a channel occurs in a thousand shades, and its light is dear
  const light = Array.from({ length: SHADES }, (_, step) => lightOfLevel((step * 255) / (SHADES - 1)));
  for (let i = 0, at = 0; i < chroma.length; i++, at += 3) {
    const { l, a, b } = labFromLight(light[i >> 10]!, light[(i >> 5) & 31]!, light[i & 31]!);
    plain[at] = l;
    plain[at + 1] = a;
    plain[at + 2] = b;
    chroma[i] = Math.hypot(plain[at + 1]!, plain[at + 2]!);
  }
  return { plain, chroma };
}

function shadeAt(rgb: Uint8Array, at: number): number {
  const r = (rgb[at]! * 31 + 128) >> 8;
  const g = (rgb[at + 1]! * 31 + 128) >> 8;
  const b = (rgb[at + 2]! * 31 + 128) >> 8;
  return ((r << 10) | (g << 5) | b) * 3;
}

interface Pages {
  readonly dummy: PageRaster;
  readonly revision: PageRaster;
  readonly tables: Tables;
  readonly limit: number;
}

/** Null where nothing at all differs. */
function markDifferences(
  dummy: PageRaster,
  revision: PageRaster,
  open: Uint8Array,
  { width, height }: { readonly width: number; readonly height: number },
  conversion: ColourMap,
  tolerances: Tolerances,
): Uint8Array | null {
  const pages = { dummy, revision, tables: tablesOf(conversion), limit: tolerances.artworkDeltaE };
  const marks = new Uint8Array(width * height);
  let any = false;
  let next = open.indexOf(1);
  for (let y = 1; y < height - 1; y++) {
    // rows that are covered from end to end, as most are under pictures, are not looked at pixel by pixel
    if (next !== -1 && next < y * width) next = open.indexOf(1, y * width);
    if (next === -1) break;
    if (next >= (y + 1) * width) continue;
    const rows = {
      one: rowOf(dummy, y, width),
      other: rowOf(revision, y, width),
      open: open.subarray(y * width, (y + 1) * width),
    };
    if (markRow(pages, y, placesApart(rows, NEAR_LEVELS), marks.subarray(y * width, (y + 1) * width))) any = true;
  }
  return any ? marks : null;
}

/** Levels of the three channels together that are under any threshold of this check. */
const NEAR_LEVELS = 24;

function rowOf({ rgb, width }: PageRaster, y: number, pixels: number): Uint8Array {
  return rgb.subarray(y * width * 3, (y * width + pixels) * 3);
}

/**
 * Marks the places of a row that differ.
 *
 * @returns whether one of them does strongly
 */
function markRow(pages: Pages, y: number, places: Int32Array, marks: Uint8Array): boolean {
  const { dummy, revision, limit } = pages;
  const { plain, converted, chroma } = pages.tables;
  const [rowOfDummy, rowOfRevision] = [y * dummy.width, y * revision.width];
  let any = false;
  for (let at = 0; at < places.length; at++) {
    const x = places[at]!;
    const one = shadeAt(dummy.rgb, (rowOfDummy + x) * 3);
    const other = shadeAt(revision.rgb, (rowOfRevision + x) * 3);
    // saturated tints move furthest in a conversion (common practice, no source)
    const leave = limit + 0.22 * chroma[one / 3]!;
    // the neighbours can only bring a colour nearer than the pixel itself does
    if (between(plain, one, plain, other) <= 0.6 * leave || between(converted, one, plain, other) <= 0.6 * leave)
      continue;
    const mark = markOf(pages, { x, y, one, other }, leave);
    marks[x] = mark;
    if (mark === STRONG) any = true;
  }
  return any;
}

/** A place with its shades on the dummy and on the revision. */
interface Place {
  readonly x: number;
  readonly y: number;
  readonly one: number;
  readonly other: number;
}

/** How a place differs from its neighbours on the other page: 0, WEAK or STRONG. */
function markOf({ dummy, revision, tables }: Pages, { x, y, one, other }: Place, leave: number): number {
  shadesAround(dummy, x, y, onDummy);
  shadesAround(revision, x, y, onRevision);
  const { plain, converted } = tables;
  const distance = Math.min(
    Math.max(outside(plain, one, onRevision, plain), outside(plain, other, onDummy, plain)),
    Math.max(outside(converted, one, onRevision, plain), outside(plain, other, onDummy, converted)),
  );
  if (distance <= 0.6 * leave) return 0;
  // a hairline a part of a pixel off has another peak, but as much ink among its neighbours
  if (inkAround(dummy, revision, x, y) < LEAST_INK) return 0;
  return distance > leave ? STRONG : WEAK;
}

/** In levels: a hairline of 0.1 mm that came or went changes the mean of its 3 x 3 pixels by 30. */
const LEAST_INK = 10;

/** How far the means of the 3 x 3 neighbours of a place differ, in levels of the channel that differs most. */
function inkAround(dummy: PageRaster, revision: PageRaster, x: number, y: number): number {
  let worst = 0;
  for (let k = 0; k < 3; k++) {
    let sum = 0;
    for (let v = y - 1; v <= y + 1; v++) {
      for (let u = x - 1; u <= x + 1; u++)
        sum += dummy.rgb[(v * dummy.width + u) * 3 + k]! - revision.rgb[(v * revision.width + u) * 3 + k]!;
    }
    worst = Math.max(worst, Math.abs(sum) / 9);
  }
  return worst;
}

/** Distance of a shade of the dummy, by its table, from a shade of the revision as it is. */
function between(table: Float32Array, one: number, plain: Float32Array, other: number): number {
  const l = table[one]! - plain[other]!;
  const a = table[one + 1]! - plain[other + 1]!;
  const b = table[one + 2]! - plain[other + 2]!;
  return Math.sqrt(l * l + a * a + b * b);
}

/** The 3 x 3 shades around the place that is looked at, on either page: each is asked for many times. */
const onDummy = new Int32Array(9);
const onRevision = new Int32Array(9);

function shadesAround({ rgb, width }: PageRaster, x: number, y: number, into: Int32Array): void {
  let to = 0;
  for (let v = y - 1; v <= y + 1; v++) {
    for (let at = (v * width + x - 1) * 3, end = at + 9; at < end; at += 3) into[to++] = shadeAt(rgb, at);
  }
}

/** How far a colour lies outside the range of the 3 x 3 neighbours of a place on the other page. */
function outside(table: Float32Array, shade: number, around: Int32Array, pageTable: Float32Array): number {
  let sum = 0;
  for (let k = 0; k < 3; k++) {
    let least = Infinity;
    let most = -Infinity;
    for (let at = 0; at < 9; at++) {
      const value = pageTable[around[at]! + k]!;
      if (value < least) least = value;
      if (value > most) most = value;
    }
    const value = table[shade + k]!;
    const beyond = value < least ? least - value : value > most ? value - most : 0;
    sum += beyond * beyond;
  }
  return Math.sqrt(sum);
}
