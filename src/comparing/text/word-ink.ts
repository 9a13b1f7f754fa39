import type { Box, PageRaster } from '../../model/index.ts';
import { pxFromMm } from '../../model/index.ts';
import { growBox } from '../regions/cover.ts';
import type { WordPair } from './match-words.ts';

/** The paper and the ink of some type on one page. Channels red, green, blue, in levels. */
export interface WordInk {
  /** The colour around the letters. */
  readonly paper: readonly number[];
  /** What the letters take from the paper (or add to it), summed over their pixels; the same at every phase of the grid. */
  readonly total: readonly number[];
  /** The most that one pixel takes, in the direction of the total. */
  readonly peak: readonly number[];
  /** Whether there is one paper colour: over a border of tints, paper and ink cannot be told apart. */
  readonly onEvenGround: boolean;
}

/** A pair of words with the ink of both. */
export interface InkedPair {
  readonly pair: WordPair;
  readonly dummy: WordInk;
  readonly revision: WordInk;
}

/** Letters reach a part of a pixel out of their box, and may sit that far off. */
const AROUND_MM = 0.3;

/** Measures the ink of both words of a pair. */
export function measurePair(
  pair: WordPair,
  { dummy, revision }: { readonly dummy: PageRaster; readonly revision: PageRaster },
): InkedPair {
  return {
    pair,
    dummy: measureInk(dummy, growBox(pair.dummy.box, AROUND_MM)),
    revision: measureInk(revision, growBox(pair.revision.box, AROUND_MM)),
  };
}

/** In levels, over which a pixel is not of the paper's colour. */
const PAPER_LEVELS = 6;
/** Body type leaves two thirds of its place to the paper, display type a half; over a border of tints no colour has as much. */
const LEAST_PAPER = 0.45;
/** In levels from the line between paper and ink: what lies farther is another tint. */
const STRANGE_LEVELS = 14;
const MOST_STRANGERS = 0.04;

/** Measures the ink of some type, with the paper around it. */
export function measureInk(raster: PageRaster, box: Box): WordInk {
  const area = pixelsOf(raster, box);
  const [paper, total, peak]: [number[], number[], number[]] = [[], [], []];
  for (let channel = 0; channel < 3; channel++) {
    const counts = new Uint32Array(256);
    let pixels = 0;
    for (let y = area.top; y < area.bottom; y++) {
      const end = (y * raster.width + area.right) * 3;
      for (let at = (y * raster.width + area.left) * 3 + channel; at < end; at += 3) counts[raster.rgb[at]!]!++;
    }
    for (const count of counts) pixels += count;
    const middle = medianOf(counts, pixels);
    let [sum, least, most] = [0, middle, middle];
    counts.forEach((count, level) => {
      if (count === 0) return;
      sum += count * (middle - level);
      least = Math.min(least, level);
      most = Math.max(most, level);
    });
    paper.push(middle);
    total.push(sum);
    peak.push(sum >= 0 ? middle - least : middle - most);
  }
  const { papers, strangers } = countColours(raster, area, paper, total);
  return { paper, total, peak, onEvenGround: papers >= LEAST_PAPER && strangers <= MOST_STRANGERS };
}

/** Shares of pixels: of the paper's colour, and of a colour that no mixture of paper and ink has. */
function countColours(
  { width, rgb }: PageRaster,
  area: PixelArea,
  paper: readonly number[],
  ink: readonly number[],
): { readonly papers: number; readonly strangers: number } {
  const length = Math.hypot(ink[0]!, ink[1]!, ink[2]!) || 1;
  const [u, v, w] = [ink[0]! / length, ink[1]! / length, ink[2]! / length];
  let [papers, strangers, all] = [0, 0, 0];
  for (let y = area.top; y < area.bottom; y++) {
    const end = (y * width + area.right) * 3;
    for (let at = (y * width + area.left) * 3; at < end; at += 3) {
      all++;
      const r = paper[0]! - rgb[at]!;
      const g = paper[1]! - rgb[at + 1]!;
      const b = paper[2]! - rgb[at + 2]!;
      if (Math.abs(r) <= PAPER_LEVELS && Math.abs(g) <= PAPER_LEVELS && Math.abs(b) <= PAPER_LEVELS) papers++;
      const mixed = r * u + g * v + b * w;
      if (r * r + g * g + b * b - mixed * mixed > STRANGE_LEVELS * STRANGE_LEVELS) strangers++;
    }
  }
  return all === 0 ? { papers: 0, strangers: 0 } : { papers: papers / all, strangers: strangers / all };
}

function medianOf(counts: Uint32Array, pixels: number): number {
  let level = 0;
  for (let run = counts[0]!; level < 255 && run * 2 < pixels;) run += counts[++level]!;
  return level;
}

/** In levels: fainter type has no ink to speak of. */
const LEAST_CONTRAST = 24;

/** How many pixels letters cover, and how clearly they stand out, by the channel where they do most. */
export function coverOf({ total, peak }: WordInk): { readonly pixels: number; readonly contrast: number } {
  let [contrast, pixels] = [LEAST_CONTRAST, 0];
  for (let channel = 0; channel < 3; channel++) {
    if (Math.abs(peak[channel]!) <= contrast) continue;
    contrast = Math.abs(peak[channel]!);
    pixels = total[channel]! / peak[channel]!;
  }
  return { pixels, contrast };
}

/** Levels by which the pixels of some type may differ with nobody seeing it. */
const UNSEEN = 6;

/** Whether every pixel of a place is the same on both pages, to within what nobody sees: most words of most pages. */
export function isDrawnAlike(
  { dummy, revision }: { readonly dummy: PageRaster; readonly revision: PageRaster },
  box: Box,
): boolean {
  const { left, top, right, bottom } = pixelsOf(dummy, box);
  if (right > revision.width || bottom > revision.height) return false;
  for (let y = top; y < bottom; y++) {
    let to = (y * revision.width + left) * 3;
    const end = (y * dummy.width + right) * 3;
    for (let at = (y * dummy.width + left) * 3; at < end; at++, to++) {
      if (Math.abs(dummy.rgb[at]! - revision.rgb[to]!) > UNSEEN) return false;
    }
  }
  return true;
}

interface PixelArea {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

function pixelsOf({ ppi, width, height }: PageRaster, box: Box): PixelArea {
  return {
    left: Math.max(0, Math.floor(pxFromMm(box.x, ppi))),
    top: Math.max(0, Math.floor(pxFromMm(box.y, ppi))),
    right: Math.min(width, Math.ceil(pxFromMm(box.x + box.width, ppi))),
    bottom: Math.min(height, Math.ceil(pxFromMm(box.y + box.height, ppi))),
  };
}
