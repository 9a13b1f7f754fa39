import type { ReactNode } from 'react';

/** Where there is nothing yet: what will stand here, and the next step towards it. */
export function Empty({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  return (
    <div className="empty">
      <h3>{title}</h3>
      {children}
    </div>
  );
}
