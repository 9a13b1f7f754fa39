import { Link } from 'wouter';
import type { KnownFinding } from '../book/queries.ts';
import { WeightSign } from '../book/weight-sign.tsx';
import { paths } from '../paths.ts';
import { Button } from '../pieces/button.tsx';
import { words } from '../words/index.ts';

interface FindingsGiven {
  readonly titleId: string;
  readonly fileId: string;
  readonly findings: readonly KnownFinding[];
  readonly chosen: string | null;
  readonly onChoose: (one: KnownFinding) => void;
  readonly onStep: (by: number) => void;
}

const said = words.look;

/** What was found on the page, each in its sentence; one is brought into the window by a press. */
export function PageFindings({ titleId, fileId, findings, chosen, onChoose, onStep }: FindingsGiven) {
  return (
    <section className="section" aria-labelledby="found">
      <div className="row">
        <h2 id="found">{said.findings}</h2>
        {findings.length > 1 && (
          <>
            <Button onClick={() => onStep(-1)}>{said.previous}</Button>
            <Button onClick={() => onStep(1)}>{said.next}</Button>
          </>
        )}
      </div>
      {findings.length === 0 && <p>{said.none}</p>}
      <ul className="found">
        {findings.map((one) => (
          <li key={one.id} className={one.id === chosen ? 'chosen' : ''}>
            <span className={`page-mark ${one.weight}`}>
              <WeightSign weight={one.weight} /> {words.files.weights[one.weight]}
            </span>
            <button type="button" className="found-says" aria-pressed={one.id === chosen} onClick={() => onChoose(one)}>
              {one.finding.says}
            </button>
            <Link href={paths.finding(titleId, fileId, one.id)}>{said.toFinding}</Link>
          </li>
        ))}
      </ul>
    </section>
  );
}
