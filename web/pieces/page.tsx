import { useEffect } from 'react';
import type { ReactNode } from 'react';
import { Link } from 'wouter';
import { words } from '../words/index.ts';

/** A step back up, such as the title that a part is of. */
export interface Step {
  readonly to: string;
  readonly name: string;
}

interface PageGiven {
  readonly title: string;
  readonly above?: readonly Step[];
  /** Beside the heading: what can be done with all of it. */
  readonly deeds?: ReactNode;
  readonly children: ReactNode;
}

/** What every view stands in: its name, the way back up, and what can be done. */
export function Page({ title, above = [], deeds, children }: PageGiven) {
  useEffect(() => {
    document.title = words.frame.titleOf(title);
  }, [title]);
  return (
    <>
      <div className="head">
        <div className="head-words">
          {above.length > 0 && (
            <nav aria-label={words.frame.above}>
              <ol className="trail">
                {above.map(({ to, name }) => (
                  <li key={to}>
                    <Link href={to}>{name}</Link>
                  </li>
                ))}
              </ol>
            </nav>
          )}
          <h1>{title}</h1>
        </div>
        {deeds !== undefined && <div className="row">{deeds}</div>}
      </div>
      {children}
    </>
  );
}
