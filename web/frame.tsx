import { useMutation, useQueryClient, useSuspenseQuery } from '@tanstack/react-query';
import { useEffect, useRef } from 'react';
import type { ReactNode } from 'react';
import { Link, useLocation } from 'wouter';
import { call } from './call/call.ts';
import { paths } from './paths.ts';
import { SendingStrip } from './send/sending-strip.tsx';
import { meQuery } from './session/me.ts';
import { words } from './words/index.ts';

/** What stands around every view: the spine with the ways through the house, the bed, the foot with its cautions. */
export function Frame({ isWide = false, children }: { readonly isWide?: boolean; readonly children: ReactNode }) {
  const bed = useRef<HTMLElement>(null);
  const [path] = useLocation();
  const first = useRef(path);
  useEffect(() => {
    // Whoever reads by ear is taken to the new view; not at the first, where the browser does it.
    if (first.current !== path) bed.current?.focus();
    first.current = path;
  }, [path]);
  return (
    <div className={isWide ? 'frame wide' : 'frame'}>
      <a className="skip" href="#bed">
        {words.frame.skip}
      </a>
      <header className="cloth">
        <div className="cloth-inner">
          <Link className="brand" href={paths.home}>
            <Leaf />
            {words.frame.brand}
          </Link>
          <Ribbons />
        </div>
      </header>
      <main className="bed" id="bed" ref={bed} tabIndex={-1}>
        {children}
      </main>
      <SendingStrip />
      <footer className="foot">
        <p>{words.frame.caution}</p>
      </footer>
    </div>
  );
}

function Ribbons() {
  const { data: me } = useSuspenseQuery(meQuery);
  const queries = useQueryClient();
  const [path, go] = useLocation();
  const signOut = useMutation({
    mutationFn: () => call('DELETE', '/api/sessions/mine', { isRenewing: false }),
    onSettled: () => {
      queries.clear();
      queries.setQueryData(meQuery.queryKey, null);
      go(paths.signIn);
    },
  });
  if (me === null) return null;
  const ways = [
    [paths.home, words.frame.titles],
    [paths.keys, words.frame.keys],
    [paths.people, words.frame.people],
    [paths.running, words.frame.running],
    [paths.account, words.frame.account],
  ] as const;
  return (
    <nav aria-label={words.frame.ways}>
      <ul className="ribbons">
        {ways.map(([to, name]) => (
          <li key={to}>
            <Link href={to} aria-current={path === to ? 'page' : undefined}>
              {name}
            </Link>
          </li>
        ))}
        <li>
          <button type="button" title={words.frame.signedInAs(me.person.name)} onClick={() => signOut.mutate()}>
            {words.frame.signOut}
          </button>
        </li>
      </ul>
    </nav>
  );
}

/** A witness leaf: three edges cut, one left as it came, and the thread along the fold. */
function Leaf() {
  return (
    <svg viewBox="0 0 32 32" aria-hidden="true">
      <path fill="var(--headband-one)" d="M4 3h19l5 4-4 4 4 5-4 4 4 5-5 4H4z" />
      <path fill="none" stroke="var(--headband-two)" strokeWidth="2" strokeDasharray="4 3" d="M9 4v24" />
    </svg>
  );
}
