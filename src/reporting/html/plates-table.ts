import type { ReportSeparation, ReportSheets } from '../../model/index.ts';
import { inkName, screenWords, sideName, spotSentence } from '../words/sheet-words.ts';
import { html } from './markup.ts';
import type { Markup } from './markup.ts';

/** Every plate with its ink, its file and what was seen of it; null where the sheets came as pages. */
export function platesTable(sheets: ReportSheets): Markup | null {
  const { separations } = sheets;
  if (separations === undefined) return null;
  const spots = spotSentence(sheets);
  return html`<h3 id="plates">The plates</h3>
    <p class="lead">
      Each as it was sent, under the side and the ink that it was taken for. The share of paper that it covers is of the
      whole plate; a ruling is an estimate.${spots === null ? null : html` ${spots}`}
    </p>
    <div class="scroll" tabindex="0" role="group" aria-label="Table of the plates">
      <table class="plates">
        <thead>
          <tr>
            <th scope="col">Side</th>
            <th scope="col">Ink</th>
            <th scope="col">Plate</th>
            <th scope="col">Size</th>
            <th scope="col">Covered</th>
            <th scope="col">Screen</th>
          </tr>
        </thead>
        <tbody>
          ${separations.map(plateRow)}
        </tbody>
      </table>
    </div>`;
}

function plateRow(plate: ReportSeparation): Markup {
  const { ink, file, sha256, width, height, ppi, coveragePercent } = plate;
  return html`<tr>
    <td>${sideName(plate)}</td>
    <th scope="row">${inkName(ink)}</th>
    <td>${file}<br /><code class="sum">${sha256}</code></td>
    <td>${width.toFixed(1)} × ${height.toFixed(1)} mm at ${ppi.toFixed(0)} ppi</td>
    <td>${coveragePercent.toFixed(1)} %</td>
    <td>${screenWords(plate)}</td>
  </tr>`;
}
