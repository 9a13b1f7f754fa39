import type { ReactNode } from 'react';

interface TableGiven {
  /** What it is a table of, for whoever reads by ear. */
  readonly name: string;
  readonly heads: readonly string[];
  /** On a phone each row is a small block of its own; for cells that say by themselves what they are. */
  readonly isStacked?: boolean;
  readonly children: ReactNode;
}

/** A table that goes sideways by itself where it is wider than the window, also by keyboard. */
export function Table({ name, heads, isStacked = false, children }: TableGiven) {
  return (
    <div className="table-bed" tabIndex={0} role="group" aria-label={name}>
      <table className={isStacked ? 'stacked' : undefined}>
        <thead>
          <tr>
            {heads.map((head) => (
              <th key={head} scope="col">
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>{children}</tbody>
      </table>
    </div>
  );
}
