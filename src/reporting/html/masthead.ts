import type { FileIdentity, Report } from '../../model/index.ts';
import { orderFindings } from '../page-order.ts';
import type { ReportedFinding } from '../page-order.ts';
import type { ReportSubject } from '../report-subject.ts';
import { WEIGHTS, WEIGHT_WORDS } from '../words/finding-words.ts';
import { formatBytes, formatCount } from '../words/figures.ts';
import { countWeights, verdictSentence } from '../words/verdict-words.ts';
import { foreEdge } from './fore-edge.ts';
import { html } from './markup.ts';
import type { Markup } from './markup.ts';
import { houseMark, weightSign } from './signs.ts';

/** The head of the report: what was compared, the verdict, the book from its fore-edge, the counts, the contents. */
export function masthead({ report, names, madeAt }: ReportSubject, findings: readonly ReportedFinding[]): Markup {
  return html`<header class="masthead">
    <p class="house">${houseMark()} Witness Leaf</p>
    <h1>
      <bdi>${names.revision}</bdi>
      <span class="against"><i>against the dummy</i> <bdi>${names.dummy}</bdi></span>
    </h1>
    <p class="verdict">${verdictSentence(report)}</p>
    ${foreEdge(report, findings)}
    <div class="facts">
      ${weightTable(report)}
      <dl class="files">${fileFacts('Dummy', report.dummy)} ${fileFacts('Revision', report.revision)}</dl>
    </div>
    ${madeAt !== undefined && html`<p class="made">Made ${madeAt.toISOString().slice(0, 16).replace('T', ' ')} UTC</p>`}
    <nav class="contents" aria-label="Contents">
      ${report.sheets !== undefined && html`<a href="#sheets">The sheets</a>`} <a href="#book">The book</a>
      ${orderFindings(findings).length > 0 && html`<a href="#order">Order of the pages</a>`}
      <a href="#findings">Findings</a> <a href="#tolerances">Tolerances</a> <a href="#cautions">Cautions</a>
    </nav>
  </header>`;
}

function weightTable(report: Report): Markup {
  const counts = countWeights(report);
  return html`<ul class="weights">
    ${WEIGHTS.map(
      (weight) =>
        html`<li class="weighs-${weight}">
          <span class="count">${counts[weight]}</span> ${weightSign(weight)} <b>${weight}</b>
          <span class="means">${WEIGHT_WORDS[weight]}</span>
        </li>`,
    )}
  </ul>`;
}

function fileFacts(name: string, { sha256, bytes, pages }: FileIdentity): Markup {
  return html`<div>
    <dt>${name}</dt>
    <dd>
      ${formatCount(pages, 'page')}, ${formatBytes(bytes)}
      <span class="hash">SHA-256 <code title="${sha256}">${sha256.slice(0, 8)}…${sha256.slice(-8)}</code></span>
    </dd>
  </div>`;
}
