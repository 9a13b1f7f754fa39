import type { Report } from '../../model/index.ts';
import { findingNumbers, inPageOrder, orderFindings } from '../page-order.ts';
import type { ReportedFinding } from '../page-order.ts';
import type { Exhibits } from '../pictures/exhibit.ts';
import type { ReportSubject } from '../report-subject.ts';
import { FINDING_WORDS } from '../words/finding-words.ts';
import { placeWords } from '../words/place-words.ts';
import { conversionSentence } from '../words/verdict-words.ts';
import { cautionsSection, tolerancesSection } from './end-matter.ts';
import { findingSection } from './finding-section.ts';
import { html } from './markup.ts';
import type { Markup } from './markup.ts';
import { masthead } from './masthead.ts';
import { pageOrderFigure } from './page-order-figure.ts';
import { sheetsSection } from './sheets-section.ts';
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
          ${sheetsSection(report, findings, exhibits)} ${bookSection(report, findings, exhibits)}
          ${orderSection(report, findings)} ${findingsSection(findings, exhibits)} ${tolerancesSection(report)}
          ${cautionsSection(report)}
        </main>
        <footer>
          <p>
            Witness Leaf · pages drawn by ${report.renderer} · the same as data: <a href="report.json">report.json</a>
          </p>
        </footer>
      </body>
    </html>`.markup.concat('\n');
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
