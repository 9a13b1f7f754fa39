import { useQueryClient } from '@tanstack/react-query';
import { useEffect, useSyncExternalStore } from 'react';
import { words } from '../words/index.ts';
import { onSendings, sendings } from './sendings.ts';
import { SendingRow } from './sending-row.tsx';

/** What is on its way to a part. */
export function SendingList({ titleId, partId }: { readonly titleId: string; readonly partId: string }) {
  const all = useSyncExternalStore(onSendings, sendings).filter((one) => one.partId === partId);
  const queries = useQueryClient();
  const arrived = all.filter(({ state }) => state === 'arrived').length;
  useEffect(() => {
    // The news of it may come later than its last byte was acknowledged, or not at all.
    if (arrived > 0) void queries.invalidateQueries({ queryKey: ['title', titleId] });
  }, [arrived, queries, titleId]);
  if (all.length === 0) return null;
  return (
    <section className="section" aria-labelledby="on-their-way">
      <h2 id="on-their-way">{words.sending.heading}</h2>
      <ul className="stack">
        {all.map((sending) => (
          <li key={sending.id}>
            <SendingRow sending={sending} />
          </li>
        ))}
      </ul>
    </section>
  );
}
