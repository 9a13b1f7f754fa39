import type { Weight } from '../../model/index.ts';
import { html } from './markup.ts';
import type { Markup } from './markup.ts';

/** The house's mark: a block of leaves seen from the fore-edge, one of them left untrimmed. */
export function houseMark(): Markup {
  const leaves = [2, 6, 10, 18, 22, 26].map((x) => html`<path d="M${x} 10V30" />`);
  return html`<svg class="mark" viewBox="0 0 28 32" width="28" height="32" aria-hidden="true">
    <g class="block">${leaves}</g>
    <path class="witness" d="M14 2V30" />
  </svg>`;
}

/** The sign of a weight: a square, a diamond, a ring. It never stands without its word. */
export function weightSign(weight: Weight): Markup {
  const shape = {
    stop: html`<rect x="1.5" y="1.5" width="9" height="9" />`,
    look: html`<path d="M6 0.5L11.5 6L6 11.5L0.5 6Z" />`,
    note: html`<circle class="ring" cx="6" cy="6" r="4.2" />`,
  }[weight];
  return html`<svg class="sign" viewBox="0 0 12 12" width="12" height="12" aria-hidden="true">${shape}</svg>`;
}
