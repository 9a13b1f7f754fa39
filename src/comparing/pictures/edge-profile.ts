import type { Mm, PageRaster } from '../../model/index.ts';
import { pxFromMm } from '../../model/index.ts';

/** An edge of a picture on both pages; lengths in mm of the page. */
export interface EdgeOnPages {
  /** Left and right edges are upright, top and bottom edges are not. */
  readonly isUpright: boolean;
  /** Away from the picture: 1 to the right or down, -1 to the left or up. */
  readonly outward: 1 | -1;
  readonly stoodMm: Mm;
  /** Where the content took it. */
  readonly carriedMm: Mm;
  /** What the edge spans on the dummy's page, and where the content took that. */
  readonly along: { readonly from: Mm; readonly to: Mm; readonly carriedFrom: Mm; readonly carriedTo: Mm };
  /** From this edge of the picture to the opposite one. */
  readonly depthMm: Mm;
  /** Cut by the trim: beyond it is nothing to see, and paper if the picture was drawn in. */
  readonly atTrim: boolean;
}

/**
 * How much of a picture is there at each step outward, on average along its edge: 0 the ground that surrounds it, 1 as
 * different from the ground as the picture is just within its edge on the dummy's page.
 */
export interface EdgeProfile {
  /** On the dummy's page; steps of a pixel, the first `inner` within the edge as it stood. */
  readonly dummy: Float32Array;
  /** On the revision's page, around the edge as the content took it; negative where the page ends. */
  readonly revision: Float32Array;
  /** Steps of both that lie within. */
  readonly inner: number;
  /** What rounding to whole pixels put the revision's steps further out than the dummy's, in pixels. */
  readonly roundedPx: number;
}

/** So far within and outside the edge, in pixels, picture and ground are clear of the rim that drawing gives them. */
const CLEAR_PX = 3;
/** A picture differs from its ground, in levels of one channel, where its edge can be seen. */
const SEEN = 24;
/** And its ground is even there. */
const EVEN = 10;
/** So much of an edge must be seen, and so many pixels. */
const SEEN_SHARE = 0.3;
const FEWEST_PX = 20;
/** Ends of an edge are left out: there the neighbouring edges begin. */
const ENDS_PX = 3;
/** Windows are looked for so far around the edge, in pixels, and no further in than to the middle of the picture. */
const REACH_PX = 40;

/** Both profiles of an edge; null where too little of it can be seen on the dummy's page. */
export function edgeProfile(
  { dummy, revision }: { readonly dummy: PageRaster; readonly revision: PageRaster },
  { isUpright, outward, stoodMm, carriedMm, along, depthMm, atTrim }: EdgeOnPages,
): EdgeProfile | null {
  const { ppi } = dummy;
  const px = (mm: Mm): number => pxFromMm(mm, ppi);
  // the pixel just within the edge
  const own = Math.round(px(stoodMm)) - (outward === 1 ? 1 : 0);
  const carried = Math.round(px(carriedMm)) - (outward === 1 ? 1 : 0);
  const [from, to] = [Math.round(px(along.from)) + ENDS_PX, Math.round(px(along.to)) - ENDS_PX];
  const stretch = (along.carriedTo - along.carriedFrom) / (along.to - along.from);
  const read = (page: PageRaster, depth: number, at: number): number =>
    isUpright ? pixelAt(page, depth, at) : pixelAt(page, at, depth);
  const inner = Math.max(CLEAR_PX + RUN, Math.min(REACH_PX, Math.floor(px(depthMm) / 2)));
  const outer = REACH_PX + Math.ceil(Math.abs(px(carriedMm - stoodMm)));
  const sums = { dummy: new Float32Array(inner + outer), revision: new Float32Array(inner + outer) };
  const counts = new Float32Array(inner + outer);
  let seen = 0;
  for (let at = from; at < to; at++) {
    const within = read(dummy, own - CLEAR_PX * outward, at);
    const [near, far] = [1, 2].map((beyond) => read(dummy, own + (CLEAR_PX + beyond - 1) * outward, at));
    if (within < 0) continue;
    const ground = atTrim ? null : near!;
    if (ground !== null && (ground < 0 || far! < 0)) continue;
    const paper = (page: PageRaster, offset: number): number =>
      ground === null ? lightness(page, offset) : apart(page, offset, dummy, ground);
    const contrast = paper(dummy, within);
    if (contrast < SEEN || (ground !== null && paper(dummy, far!) > EVEN)) continue;
    seen++;
    const carriedAt = Math.round(px(along.carriedFrom) + (at + 0.5 - px(along.from)) * stretch - 0.5);
    for (let step = 0; step < inner + outer; step++) {
      const out = (step - inner + 1) * outward;
      const [was, is] = [read(dummy, own + out, at), read(revision, carried + out, carriedAt)];
      if (was >= 0) sums.dummy[step]! += Math.min(1, paper(dummy, was) / contrast);
      if (is < 0) continue;
      sums.revision[step]! += Math.min(1, paper(revision, is) / contrast);
      counts[step]!++;
    }
  }
  if (seen < Math.max(FEWEST_PX, SEEN_SHARE * (to - from))) return null;
  const rounded = (mm: Mm): number => (Math.round(px(mm)) - px(mm)) * outward;
  return {
    inner,
    roundedPx: rounded(carriedMm) - rounded(stoodMm),
    dummy: sums.dummy.map((sum) => sum / seen),
    revision: sums.revision.map((sum, step) => (counts[step]! < seen / 2 ? -1 : sum / counts[step]!)),
  };
}

/** Where the bytes of a pixel begin; -1 beyond the page. */
function pixelAt({ width, height }: PageRaster, x: number, y: number): number {
  return x < 0 || y < 0 || x >= width || y >= height ? -1 : (y * width + x) * 3;
}

/** In levels of the channel that differs most. */
function apart(one: PageRaster, at: number, other: PageRaster, to: number): number {
  let most = 0;
  for (let k = 0; k < 3; k++) most = Math.max(most, Math.abs(one.rgb[at + k]! - other.rgb[to + k]!));
  return most;
}

/** How far a pixel is from paper. */
function lightness({ rgb }: PageRaster, at: number): number {
  return 255 - Math.min(rgb[at]!, rgb[at + 1]!, rgb[at + 2]!);
}

/** Under this there is ground, over the other there is picture; between them is a rim. */
const GROUND = 0.2;
const PICTURE = 0.5;
/** So many steps in turn are a part of the picture or of its ground. */
const RUN = 3;

/**
 * How far outside the place that the content took it to, in pixels, an edge lies on the revision's page.
 *
 * @returns null where no ground follows, or the picture could be as light as its ground there
 */
export function whereItEnds({ dummy, revision, inner, roundedPx }: EdgeProfile, movedPx: number): number | null {
  const first = inner - CLEAR_PX;
  const own = crossing(dummy, first);
  if (own === null) return null;
  let within = first;
  while (within >= RUN && !isPicture(revision, within)) within--;
  if (within < RUN) return null;
  // what is missing must be known to have been more than ground
  for (let step = within + 1; step <= first; step++) if (dummy[step]! < PICTURE) return null;
  const end = crossing(revision, within);
  if (end === null || end > inner + movedPx + REACH_PX / 2) return null;
  return end - own + roundedPx;
}

function isPicture(profile: Float32Array, step: number): boolean {
  for (let at = step; at > step - RUN; at--) if (profile[at]! < PICTURE) return false;
  return true;
}

/** The step, with its part, at which half of what is there just within is left; null where no ground follows. */
function crossing(profile: Float32Array, from: number): number | null {
  for (let step = from + 1; step + 1 < profile.length; step++) {
    if (profile[step]! < 0) return null;
    if (profile[step]! > GROUND || profile[step + 1]! > GROUND) continue;
    let at = step;
    while (at > from && profile[at - 1]! < PICTURE * profile[from]!) at--;
    const [before, after, half] = [profile[at - 1]!, profile[at]!, PICTURE * profile[from]!];
    return at - 1 + (before - half) / Math.max(1e-6, before - after);
  }
  return null;
}
