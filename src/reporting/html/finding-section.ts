import type { ReportedFinding } from '../page-order.ts';
import { drawnMarks } from '../pictures/drawn-marks.ts';
import { EXHIBIT_KINDS } from '../pictures/exhibit-kinds.ts';
import type { Exhibit, Shot } from '../pictures/exhibit.ts';
import { FINDING_WORDS, WEIGHT_WORDS } from '../words/finding-words.ts';
import { keepUnits } from '../words/figures.ts';
import { measuredFigures } from '../words/measured-words.ts';
import { placeWords } from '../words/place-words.ts';
import { changedWords } from './changed-words.ts';
import { html } from './markup.ts';
import type { Markup } from './markup.ts';
import { image, marksOver } from './plate.ts';
import { weightSign } from './signs.ts';

/** A finding with its pictures and its neighbours. */
export interface FindingContent {
  readonly finding: ReportedFinding;
  readonly number: number;
  readonly exhibit: Exhibit | null;
  readonly before: ReportedFinding | null;
  readonly after: ReportedFinding | null;
}

/** One finding: its sentence, what was measured, both sides, the difference, and one side over the other. */
export function findingSection(content: FindingContent): Markup {
  const { finding, number, exhibit } = content;
  const heading = `finding-${number}-heading`;
  return html`<article
    id="finding-${number}"
    class="finding weighs-${finding.weight}"
    tabindex="-1"
    aria-labelledby="${heading}"
  >
    <header>
      <p class="number" aria-hidden="true">${number}</p>
      <h3 id="${heading}">${FINDING_WORDS[finding.kind]} <span class="place">${placeWords(finding)}</span></h3>
      <p class="weight">${weightSign(finding.weight)} <b>${finding.weight}</b>: ${WEIGHT_WORDS[finding.weight]}</p>
    </header>
    <p class="says">${keepUnits(finding.says)}</p>
    ${figures(finding)} ${exhibit !== null && shots(finding, exhibit)}
    ${exhibit === null && finding.kind === 'page-unreadable' && html`<p class="undrawn">There is no picture of this page.</p>`}
    ${neighbours(content)}
  </article>`;
}

function figures(finding: ReportedFinding): Markup | null {
  const known = measuredFigures(finding);
  if (known.length === 0) return null;
  const changed = finding.kind === 'text-changed' ? changedWords(finding.measured) : null;
  const values = changed === null ? known.map(({ value }) => keepUnits(value)) : [changed.before, changed.after];
  return html`<dl class="figures">
    ${known.map(
      ({ term }, index) =>
        html`<div>
          <dt>${term}</dt>
          <dd>${values[index] ?? ''}</dd>
        </div>`,
    )}
  </dl>`;
}

function shots(finding: ReportedFinding, exhibit: Exhibit): Markup {
  const { region, dummy, revision, difference } = exhibit;
  const upright = region.height > region.width * 0.9;
  const side = (name: 'dummy' | 'revision', shot: Shot | null): Markup | null => {
    if (shot === null) return null;
    const page = name === 'dummy' ? finding.dummyPage : finding.revisionPage;
    const title = name === 'dummy' ? 'Dummy' : 'Revision';
    return html`<figure class="shot">
      <div class="plate">
        ${image(shot, `${title}, page ${page ?? ''}: what is described above`)}
        ${marksOver(drawnMarks(finding, name, region), region)}
      </div>
      <figcaption><b>${title}</b> page ${page ?? ''}</figcaption>
    </figure>`;
  };
  return html`<div class="shots ${upright ? 'are-upright' : 'are-broad'}">
    ${side('dummy', dummy)} ${side('revision', revision)}
    ${dummy !== null && revision !== null && EXHIBIT_KINDS[finding.kind].overlay && overlay(dummy, revision)}
    ${difference !== null && differencePlate(finding, difference)}
  </div>`;
}

function overlay(dummy: Shot, revision: Shot): Markup {
  return html`<figure class="shot overlay">
    <div class="plate">
      ${image(dummy, 'Dummy, lying under the revision')} ${image(revision, 'Revision, lying over the dummy', 'upper')}
    </div>
    <figcaption>
      <b>One over the other</b>
      <span class="fade">
        <span aria-hidden="true">dummy</span>
        <input type="range" min="0" max="100" value="50" step="1" aria-label="Fade from the dummy to the revision" />
        <span aria-hidden="true">revision</span>
      </span>
      <button type="button" class="alternate">Hold to alternate</button>
    </figcaption>
  </figure>`;
}

function differencePlate(finding: ReportedFinding, difference: Shot): Markup {
  const how =
    EXHIBIT_KINDS[finding.kind].difference === 'as-is'
      ? 'colours as they stand'
      : 'after the tone of the whole was evened out';
  return html`<figure class="shot difference">
    <div class="plate">${image(difference, 'Map of the difference: the stronger the colour, the further apart')}</div>
    <figcaption>
      <b>Difference</b> ${how}
      <span class="legend"><i class="none"></i> alike <i class="some"></i> apart <i class="much"></i> far apart</span>
    </figcaption>
  </figure>`;
}

function neighbours({ number, before, after }: FindingContent): Markup | null {
  if (before === null && after === null) return null;
  const link = (to: ReportedFinding, at: number, name: string, way: string): Markup =>
    html`<a class="${name}" href="#finding-${at}"
      ><span class="way">${way}</span> ${FINDING_WORDS[to.kind]}, ${placeWords(to)}</a
    >`;
  return html`<nav class="neighbours" aria-label="From finding ${number}">
    ${before !== null && link(before, number - 1, 'to-previous', 'Previous')}
    ${after !== null && link(after, number + 1, 'to-next', 'Next')}
  </nav>`;
}
