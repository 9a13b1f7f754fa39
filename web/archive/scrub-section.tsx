import { useMutation, useQueryClient, useSuspenseQuery } from '@tanstack/react-query';
import { call } from '../call/call.ts';
import { Button } from '../pieces/button.tsx';
import { Notice } from '../pieces/notice.tsx';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { words } from '../words/index.ts';
import { scrubQuery, type Scrub } from './queries.ts';

const said = words.archive;

/** Whether everything in the archive is still whole: what the latest reading found, and another one. */
export function ScrubSection() {
  const queries = useQueryClient();
  const { data: scrub } = useSuspenseQuery(scrubQuery);
  const begin = useMutation({
    mutationFn: () => call('POST', '/api/archive/scrub'),
    onSuccess: () => queries.invalidateQueries({ queryKey: scrubQuery.queryKey }),
  });
  return (
    <section className="section" aria-labelledby="scrub">
      <h2 id="scrub">{said.scrub}</h2>
      <p className="soft">{said.scrubSays}</p>
      <Found scrub={scrub} />
      {begin.error && <TroubleNotice error={begin.error} doing={said.scrubbing} />}
      <div className="row">
        <Button isBusy={begin.isPending || scrub.isRunning} onClick={() => begin.mutate()}>
          {said.scrubBegin}
        </Button>
      </div>
    </section>
  );
}

function Found({ scrub: { isRunning, begun, ended, found, cause } }: { readonly scrub: Scrub }) {
  const { moment } = words.figures;
  if (isRunning && begun !== null) return <p role="status">{said.scrubRuns(moment(begun))}</p>;
  if (ended === null) return <p>{said.scrubNone}</p>;
  if (found === null) {
    return (
      <Notice tone="look" title={said.scrubBroken(moment(ended))} isNews>
        <p>{cause}</p>
      </Notice>
    );
  }
  return (
    <Notice
      tone={found.isSound ? 'well' : 'stop'}
      title={found.isSound ? said.scrubSound(moment(ended)) : said.scrubFaults(found.faults, moment(ended))}
      isNews
    >
      <p>{said.scrubRead(found.blobs, words.figures.bytes(found.bytes), found.entries)}</p>
      {!found.isSound && <p>{said.scrubNext}</p>}
    </Notice>
  );
}
