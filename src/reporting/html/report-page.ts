import { TOLERANCE_TABLE } from '../../model/index.ts';
import type { FileIdentity, Report, ToleranceName } from '../../model/index.ts';
import { findingNumbers, inPageOrder, orderFindings } from '../page-order.ts';
import type { ReportedFinding } from '../page-order.ts';
import type { Exhibits } from '../pictures/exhibit.ts';
import type { ReportSubject } from '../report-subject.ts';
import { FINDING_WORDS, WEIGHTS, WEIGHT_WORDS } from '../words/finding-words.ts';
import { formatBytes, formatCount } from '../words/figures.ts';
import { placeWords } from '../words/place-words.ts';
import { conversionSentence, countWeights, verdictSentence } from '../words/verdict-words.ts';
import { findingSection } from './finding-section.ts';
import { foreEdge } from './fore-edge.ts';
import { html } from './markup.ts';
import type { Markup } from './markup.ts';
import { pageOrderFigure } from './page-order-figure.ts';
import { houseMark, weightSign } from './signs.ts';
import { strip } from './strip.ts';

/** Only what lies in the report's own folder is loaded, whatever a file's text or name tries. */
const POLICY =
  "default-src 'none'; img-src 'self' file:; style-src 'self' file:; script-src 'self' file:; base-uri 'none'; form-action 'none'";

/** The whole report as one HTML document that opens from a folder, without a server. */
export function reportPage(subject: ReportSubject, exhibits: Exhibits): string {
  const { report, names } = subject;
  const findings = inPageOrder(report);
  const title = `${names.revision} against the dummy ${names.dummy}`;
  return html`<!doctype html>
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta http-equiv="Content-Security-Policy" content="${POLICY}" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light dark" />
        <meta name="generator" content="Witness Leaf" />
        <title>${title} · Witness Leaf</title>
        <link rel="stylesheet" href="report.css" />
        <script src="report.js" defer></script>
      </head>
      <body>
        <a class="skip" href="#findings">Skip to the findings</a>
        ${masthead(subject, findings)}
        <main>
          ${bookSection(report, findings, exhibits)} ${orderSection(report, findings)}
          ${findingsSection(findings, exhibits)} ${tolerancesSection(report)} ${cautionsSection(report)}
        </main>
        <footer>
          <p>
            Witness Leaf · pages drawn by ${report.renderer} · the same as data: <a href="report.json">report.json</a>
          </p>
        </footer>
      </body>
    </html>`.markup.concat('\n');
}

function masthead({ report, names, madeAt }: ReportSubject, findings: readonly ReportedFinding[]): Markup {
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
      <a href="#book">The book</a>
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

function bookSection(report: Report, findings: readonly ReportedFinding[], exhibits: Exhibits): Markup {
  const conversion = conversionSentence(report);
  return html`<section id="book" aria-labelledby="book-heading">
    <h2 id="book-heading">The book</h2>
    <p class="lead">
      The revision, spread by spread. Where a page stood elsewhere in the dummy, its place there is written below it. A
      missing page hangs apart, with its number in the dummy. ${conversion}
    </p>
    ${strip({ pages: report.pages, findings, numbers: findingNumbers(report), exhibits })}
  </section>`;
}

function orderSection(report: Report, findings: readonly ReportedFinding[]): Markup | null {
  const about = orderFindings(findings);
  if (about.length === 0) return null;
  const numbers = findingNumbers(report);
  return html`<section id="order" aria-labelledby="order-heading">
    <h2 id="order-heading">Order of the pages</h2>
    <p class="row-name">Dummy</p>
    ${pageOrderFigure(report, findings)}
    <p class="row-name">Revision</p>
    <ul class="moves">
      ${about.map(
        (finding) =>
          html`<li>
            <a href="#finding-${numbers.get(finding.id) ?? ''}"
              >${FINDING_WORDS[finding.kind]}, ${placeWords(finding)}</a
            >
            ${finding.says}
          </li>`,
      )}
    </ul>
  </section>`;
}

function findingsSection(findings: readonly ReportedFinding[], exhibits: Exhibits): Markup {
  return html`<section id="findings" aria-labelledby="findings-heading" tabindex="-1">
    <h2 id="findings-heading">Findings</h2>
    ${findings.length === 0 && html`<p class="lead">Nothing was found. Every page shows what the dummy shows.</p>`}
    ${
      findings.length > 0 &&
      html`<p class="keys">
        <label><input type="checkbox" checked /> Keys:</label> <kbd>j</kbd> or <kbd>→</kbd> next, <kbd>k</kbd> or
        <kbd>←</kbd> previous finding; hold <kbd>f</kbd> to alternate dummy and revision.
      </p>`
    }
    ${findings.map((finding, index) =>
      findingSection({
        finding,
        number: index + 1,
        exhibit: exhibits.findings.get(finding.id) ?? null,
        before: findings[index - 1] ?? null,
        after: findings[index + 1] ?? null,
      }),
    )}
  </section>`;
}

function tolerancesSection(report: Report): Markup {
  const rows = (Object.keys(TOLERANCE_TABLE) as ToleranceName[]).map(
    (name) =>
      html`<tr>
        <th scope="row"><code>${name}</code></th>
        <td>${report.tolerances[name]}</td>
        <td>${TOLERANCE_TABLE[name].value}</td>
        <td>${TOLERANCE_TABLE[name].reason}</td>
      </tr>`,
  );
  return html`<section id="tolerances" aria-labelledby="tolerances-heading">
    <h2 id="tolerances-heading">Tolerances in force</h2>
    <div class="scroll" tabindex="0" role="region" aria-labelledby="tolerances-heading">
      <table>
        <thead>
          <tr>
            <th scope="col">Name, with its unit</th>
            <th scope="col">Here</th>
            <th scope="col">By default</th>
            <th scope="col">Why so</th>
          </tr>
        </thead>
        <tbody>
          ${rows}
        </tbody>
      </table>
    </div>
  </section>`;
}

function cautionsSection(report: Report): Markup {
  return html`<section id="cautions" aria-labelledby="cautions-heading">
    <h2 id="cautions-heading">Where this report’s word ends</h2>
    <ul>
      ${report.cautions.map((caution) => html`<li>${caution}</li>`)}
    </ul>
  </section>`;
}
