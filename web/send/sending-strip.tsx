import { useSyncExternalStore } from 'react';
import { Link, useLocation } from 'wouter';
import { paths } from '../paths.ts';
import { words } from '../words/index.ts';
import { onSendings, sendings } from './sendings.ts';

/** At the foot of every other view: that files are still on their way, and where to see them. */
export function SendingStrip() {
  const all = useSyncExternalStore(onSendings, sendings);
  const [path] = useLocation();
  const open = all.filter(({ state }) => state !== 'arrived' && state !== 'refused');
  const first = open[0];
  if (first === undefined || path === paths.part(first.titleId, first.partId)) return null;
  return (
    <aside className="strip" aria-label={words.sending.heading}>
      {words.sending.strip(open.length)}.{' '}
      <Link href={paths.part(first.titleId, first.partId)}>{words.sending.stripTo}</Link>
    </aside>
  );
}
