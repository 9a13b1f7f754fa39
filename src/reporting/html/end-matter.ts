import { TOLERANCE_TABLE } from '../../model/index.ts';
import type { Report, ToleranceName } from '../../model/index.ts';
import { html } from './markup.ts';
import type { Markup } from './markup.ts';

/** Every tolerance in force, beside its default and its reason. */
export function tolerancesSection(report: Report): Markup {
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
    <div class="scroll" tabindex="0" role="group" aria-label="Table of the tolerances">
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

/** Where the report's word ends. */
export function cautionsSection(report: Report): Markup {
  return html`<section id="cautions" aria-labelledby="cautions-heading">
    <h2 id="cautions-heading">Where this report’s word ends</h2>
    <ul>
      ${report.cautions.map((caution) => html`<li>${caution}</li>`)}
    </ul>
  </section>`;
}
