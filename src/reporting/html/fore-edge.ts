import type { PagePair, Report, Weight } from '../../model/index.ts';
import { formatCount } from '../words/figures.ts';
import { findingsAt, heaviest } from '../page-order.ts';
import type { ReportedFinding } from '../page-order.ts';
import { html } from './markup.ts';
import type { Markup } from './markup.ts';

const BLOCK_PX = { height: 34, most: 1100, perLeaf: 13 };
/** How far a leaf stands out of the block, by what was found on it. */
const STANDS_OUT_PX: Readonly<Record<Weight, number>> = { stop: 24, look: 15, note: 7 };

/** The whole book seen from its fore-edge: one line a page; a page with findings stands out, the more they weigh. */
export function foreEdge(report: Report, findings: readonly ReportedFinding[]): Markup {
  const foot = STANDS_OUT_PX.stop + BLOCK_PX.height;
  const lines = report.pages.map((pair, place) => {
    const weight = heaviest(findingsAt(findings, pair));
    const top = STANDS_OUT_PX.stop - (weight === null ? 0 : STANDS_OUT_PX[weight]);
    const x = `${percent((place + 0.5) / report.pages.length)}%`;
    return html`<line class="${leafClass(pair, weight)}" x1="${x}" x2="${x}" y1="${top}" y2="${foot}" />`;
  });
  const marked = report.pages.filter((pair) => findingsAt(findings, pair).length > 0).length;
  const width = Math.min(BLOCK_PX.most, Math.max(120, report.pages.length * BLOCK_PX.perLeaf));
  const label = `The book from its fore-edge: ${formatCount(report.pages.length, 'leaf', 'leaves')}, ${marked} with findings, standing out.`;
  return html`<svg class="fore-edge" role="img" aria-label="${label}" width="${width}" height="${foot}">${lines}</svg>`;
}

function leafClass(pair: PagePair, weight: Weight | null): string {
  return [weight === null ? 'plain' : `weighs-${weight}`, pair.state === 'missing' ? 'is-missing' : '']
    .join(' ')
    .trim();
}

/** A share of the width, as SVG wants it. */
export function percent(share: number): number {
  return Math.round(share * 100_000) / 1000;
}
