import { useQuery } from '@tanstack/react-query';
import { Tag } from '../pieces/notice.tsx';
import { words } from '../words/index.ts';
import { firstFindingsQuery } from './queries.ts';

const said = words.files;
/** Enough to see what is the matter while the rest is still to come. */
const SHOWN = 20;

/** Findings as they come, before the last page is read. */
export function FirstFindings({ fileId }: { readonly fileId: string }) {
  const { data: found = [] } = useQuery(firstFindingsQuery(fileId));
  if (found.length === 0) return null;
  return (
    <section className="section" aria-labelledby="first-findings">
      <h2 id="first-findings">{said.firstFindings}</h2>
      <p className="soft">{said.firstFindingsSay}</p>
      <ul className="stack" aria-live="polite">
        {found.slice(0, SHOWN).map((one, index) => (
          <li key={index} className="row">
            <Tag tone={one.weight}>{said.weights[one.weight]}</Tag>
            <span>
              <span className="soft">{said.onPage(one.dummyPage, one.revisionPage)}:</span> {one.says}
            </span>
          </li>
        ))}
      </ul>
      {found.length > SHOWN && <p className="soft">{said.moreFindings(found.length - SHOWN)}</p>}
    </section>
  );
}
