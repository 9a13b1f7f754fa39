import type { Finding } from '../../../src/model/index.ts';
import { errorsOf } from './figures.ts';
import type { Judgement } from './judge-report.ts';
import type { Wanted } from './trial.ts';

/** Everything that went wrong in one trial, a line each; empty where all was well. */
export function complaintsOf(judgement: Judgement): readonly string[] {
  const lines: string[] = [];
  for (const outcome of judgement.outcomes) {
    const { wanted, found, namedRightly } = outcome;
    if (found === null) lines.push(`MISSED    ${told(wanted)}`);
    else if (!namedRightly) lines.push(`MISNAMED  ${told(wanted)}; told as ${said(found)}`);
    const { cropMm, scalePercent, turnDeg, moveMm, placeMm } = errorsOf(outcome);
    const off = [
      (cropMm ?? 0) > 0.3 && `${cropMm?.toFixed(2)} mm`,
      (scalePercent ?? 0) > 0.3 && `${scalePercent?.toFixed(2)} %`,
      (turnDeg ?? 0) > 0.2 && `${turnDeg?.toFixed(2)} degrees`,
      (moveMm ?? 0) > 0.3 && `${moveMm?.toFixed(2)} mm`,
      (placeMm ?? 0) > 0.1 && `${placeMm?.toFixed(2)} mm`,
    ].filter((each) => each !== false);
    if (found !== null && off.length > 0) lines.push(`OFF       by ${off.join(', ')}: ${told(wanted)}; ${said(found)}`);
  }
  for (const finding of judgement.falseAlarms) lines.push(`FALSE     ${said(finding)}`);
  for (const finding of judgement.surplus) lines.push(`TWICE     ${said(finding)}`);
  for (const wrong of judgement.pairing.wrong) lines.push(`PAIRING   ${wrong}`);
  const { moves, trial } = judgement;
  if (trial.origins !== null && moves.told !== moves.wanted) {
    lines.push(`MOVES     ${moves.told} told, ${moves.wanted} made`);
  }
  return lines;
}

function told({ kind, dummyPages, revisionPages, figures, exactly }: Wanted): string {
  const asked = { ...figures, ...exactly };
  const figureText = Object.keys(asked).length === 0 ? '' : ` ${JSON.stringify(asked)}`;
  return `${kind}, dummy ${dummyPages.join(' or ') || '–'}, revision ${revisionPages.join(' or ') || '–'}${figureText}`;
}

function said({ kind, weight, dummyPage, revisionPage, box, measured, says }: Finding): string {
  const place = box === null ? '' : ` at ${[box.x, box.y, box.width, box.height].map((mm) => mm.toFixed(1)).join(' ')}`;
  const pages = `dummy ${dummyPage ?? '–'}, revision ${revisionPage ?? '–'}`;
  return `${kind} (${weight}), ${pages}${place} ${JSON.stringify(measured)} “${says}”`;
}
