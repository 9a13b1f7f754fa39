import type { PagePair, PageState } from '../../model/index.ts';
import { drawnMarks } from '../pictures/drawn-marks.ts';
import type { Exhibits, Leaf } from '../pictures/exhibit.ts';
import { findingsAt, heaviest } from '../page-order.ts';
import type { ReportedFinding } from '../page-order.ts';
import { folioOf, originOf, spreadsOf } from '../spreads.ts';
import { WEIGHTS } from '../words/finding-words.ts';
import { formatCount } from '../words/figures.ts';
import { html } from './markup.ts';
import type { Markup } from './markup.ts';
import { image, marksOver } from './plate.ts';
import { weightSign } from './signs.ts';

/** What the strip is drawn from. */
export interface StripContent {
  readonly pages: readonly PagePair[];
  readonly findings: readonly ReportedFinding[];
  readonly numbers: ReadonlyMap<string, number>;
  readonly exhibits: Exhibits;
}

const STATE_WORDS: Readonly<Record<PageState, string>> = {
  'same-content': 'same content as the dummy',
  'same-picture': 'the same to the eye',
  differs: 'differs',
  missing: 'missing',
  added: 'added',
  repeated: 'repeated',
};

/**
 * The revision as a strip of spreads: page 1 alone on the right, then left and right in turn. A dummy page that is
 * missing hangs as a loose leaf behind the spread in which it would have stood.
 */
export function strip(content: StripContent): Markup {
  const size = content.pages.length > 120 ? 'is-long' : content.pages.length > 48 ? 'is-middling' : 'is-short';
  return html`<ol class="strip ${size}">
    ${spreadsOf(content.pages).map(({ bound, loose }) => [
      bound.length > 0 && html`<li class="spread">${bound.map((place) => leaf(content, place.pair, place.index))}</li>`,
      loose.map((place) => html`<li class="spread is-loose">${leaf(content, place.pair, place.index)}</li>`),
    ])}
  </ol>`;
}

function leaf(content: StripContent, pair: PagePair, index: number): Markup {
  const findings = findingsAt(content.findings, pair);
  const weight = heaviest(findings);
  const side = pair.revisionPage === null ? 'loose' : pair.revisionPage % 2 === 1 ? 'right' : 'left';
  const names = ['leaf', `on-the-${side}`, weight === null ? '' : `stands-out weighs-${weight}`].filter(
    (name) => name !== '',
  );
  return html`<figure class="${names.join(' ')}">
    <div class="sheet">${picture(content.exhibits.leaves[index], pair, findings)}</div>
    <figcaption>
      <span class="folio">${folioOf(pair)}</span>
      ${originOf(pair) !== '' && html`<span class="origin">${originOf(pair)}</span>`}
      ${findings.length > 0 && html`<span class="found">${tags(findings, content.numbers)}</span>`}
    </figcaption>
  </figure>`;
}

function picture(drawn: Leaf | undefined, pair: PagePair, findings: readonly ReportedFinding[]): Markup {
  if (drawn?.shot == null || drawn.sizeMm === null) return html`<p class="undrawn">could not be drawn</p>`;
  const region = { x: 0, y: 0, ...drawn.sizeMm };
  const side = pair.revisionPage === null ? 'dummy' : 'revision';
  const boxes = findings.flatMap((finding) => drawnMarks(finding, side, region)).filter(({ shape }) => shape === 'box');
  return html`${image(drawn.shot, altText(pair, findings))}${marksOver(boxes, region)}`;
}

function altText(pair: PagePair, findings: readonly ReportedFinding[]): string {
  const found = findings.length === 0 ? '' : `, ${formatCount(findings.length, 'finding')}`;
  return `${pair.revisionPage === null ? 'Dummy' : 'Revision'} page ${folioOf(pair)}: ${STATE_WORDS[pair.state]}${found}`;
}

/** One link for each weight found on the page, with sign, count and word; it leads to the first of them. */
function tags(findings: readonly ReportedFinding[], numbers: ReadonlyMap<string, number>): readonly Markup[] {
  return WEIGHTS.flatMap((weight) => {
    const own = findings.filter((finding) => finding.weight === weight);
    const first = own[0];
    if (first === undefined) return [];
    const count = own.length === 1 ? '' : `${own.length} `;
    return [
      html`<a class="tag weighs-${weight}" href="#finding-${numbers.get(first.id) ?? ''}"
        >${weightSign(weight)} ${count}${weight}</a
      >`,
    ];
  });
}
