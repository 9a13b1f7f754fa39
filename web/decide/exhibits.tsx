import { useQuery } from '@tanstack/react-query';
import { words } from '../words/index.ts';
import { exhibitsQuery, type Exhibit } from './queries.ts';

const said = words.decide;
const ORDER: readonly Exhibit['side'][] = ['dummy', 'revision', 'difference'];

interface ExhibitsGiven {
  readonly titleId: string;
  readonly reportId: string;
  readonly mark: string;
  readonly size: 'small' | 'large';
}

/** The pictures that show a finding, side by side: the dummy, the file, the difference. */
export function Exhibits({ titleId, reportId, mark, size }: ExhibitsGiven) {
  const { data = [] } = useQuery(exhibitsQuery(titleId, reportId));
  const own = data.filter((one) => one.mark === mark);
  const shown = ORDER.flatMap((side) => own.filter((one) => one.side === side));
  if (shown.length === 0) return null;
  return (
    <ul className={`exhibits ${size}`}>
      {shown.map(({ side, picture, widthPx, heightPx }) => (
        <li key={side}>
          <figure>
            <img src={picture} alt={said.exhibitOf(side, mark)} width={widthPx} height={heightPx} loading="lazy" />
            <figcaption>{said.sides[side]}</figcaption>
          </figure>
        </li>
      ))}
    </ul>
  );
}
