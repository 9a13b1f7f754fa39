import type { Box, PagePoint } from '../../model/index.ts';
import type { DrawnMark } from '../pictures/drawn-marks.ts';
import type { Shot } from '../pictures/exhibit.ts';
import { html } from './markup.ts';
import type { Markup } from './markup.ts';

/** Where a picture of the report lies in its folder. */
function pictureAddress(shot: Shot): string {
  return `pictures/${shot.name}.webp`;
}

/** An image of the report, loaded when it comes near the window. */
export function image(shot: Shot, alt: string, name = ''): Markup {
  const address = pictureAddress(shot);
  return html`<img
    class="${name}"
    src="${address}"
    width="${shot.width}"
    height="${shot.height}"
    alt="${alt}"
    loading="lazy"
    decoding="async"
  />`;
}

/** Marks over a picture of a region of the page; the words beside the picture say the same. */
export function marksOver(marks: readonly DrawnMark[], region: Box): Markup | null {
  if (marks.length === 0) return null;
  const long = Math.max(region.width, region.height);
  const size = 0.038 * long;
  return html`<svg
    class="marks"
    viewBox="${region.x} ${region.y} ${region.width} ${region.height}"
    preserveAspectRatio="none"
    aria-hidden="true"
  >
    ${marks.map((mark) => drawMark(mark, region, size))}
  </svg>`;
}

function drawMark(mark: DrawnMark, region: Box, size: number): Markup {
  switch (mark.shape) {
    case 'box': {
      const { x, y, width, height } = mark.box;
      return html`<g class="box">
        ${['casing', 'line'].map((name) => html`<rect class="${name}" x="${x}" y="${y}" width="${width}" height="${height}" />`)}
      </g>`;
    }
    case 'band': {
      const { x, y, width, height } = mark.box;
      return html`<g class="band">
        <rect x="${x}" y="${y}" width="${width}" height="${height}" />
        ${label(mark.label, mark.at, region, size)}
      </g>`;
    }
    case 'arrow': {
      const path = arrowPath(mark.from, mark.to, size);
      return html`<g class="arrow">
        ${['casing', 'line'].map((name) => html`<path class="${name}" d="${path}" />`)}
        ${label(mark.label, { x: mark.to.x, y: mark.to.y + 1.2 * size }, region, size)}
      </g>`;
    }
  }
}

function label(text: string, at: PagePoint, region: Box, size: number): Markup {
  const half = 0.3 * size * text.length;
  const x = clamp(at.x, region.x + half, region.x + region.width - half);
  const y = clamp(at.y + size / 3, region.y + 1.2 * size, region.y + region.height - 0.6 * size);
  return html`<text x="${x}" y="${y}" font-size="${size}" stroke-width="${0.28 * size}">${text}</text>`;
}

/** An arrow's shaft and head as one path. */
function arrowPath(from: PagePoint, to: PagePoint, size: number): string {
  const angle = Math.atan2(to.y - from.y, to.x - from.x);
  const barb = (turn: number): string =>
    `${place(to.x - 0.7 * size * Math.cos(angle + turn))} ${place(to.y - 0.7 * size * Math.sin(angle + turn))}`;
  return `M${place(from.x)} ${place(from.y)}L${place(to.x)} ${place(to.y)}M${barb(0.5)}L${place(to.x)} ${place(to.y)}L${barb(-0.5)}`;
}

function place(value: number): number {
  return Math.round(value * 100) / 100;
}

function clamp(value: number, least: number, most: number): number {
  return most < least ? (least + most) / 2 : Math.min(most, Math.max(least, value));
}
