import { useSuspenseQueries } from '@tanstack/react-query';
import type { ArchiveState, TimeStamp } from '../call/answers.ts';
import { Notice } from '../pieces/notice.tsx';
import { Page } from '../pieces/page.tsx';
import { words } from '../words/index.ts';
import { archiveQuery, headQuery } from './queries.ts';
import { ScrubSection } from './scrub-section.tsx';

const said = words.archive;
/** Below this share of room somebody has to see to it. */
const LOW = 0.05;

/** The archive itself: its key, the head of its log, time-stamps, room and work. */
export default function RunningView() {
  const [{ data: state }, { data: log }] = useSuspenseQueries({ queries: [archiveQuery, headQuery] });
  const { head, stamps } = log;
  const { freeBytes, totalBytes } = state.disk;
  const { bytes, moment, count } = words.figures;
  return (
    <Page title={said.heading}>
      <div className="stack-wide">
        <p>{said.says}</p>
        {freeBytes < LOW * totalBytes && (
          <Notice tone="stop" title={said.low}>
            <p>{said.lowSays}</p>
          </Notice>
        )}
        <section className="section" aria-labelledby="key">
          <h2 id="key">{said.key}</h2>
          <p className="soft">{said.keySays}</p>
          <dl className="facts">
            <dt>{said.origin}</dt>
            <dd>
              <code>{head.origin}</code>
            </dd>
            <dt>{said.verifierKey}</dt>
            <dd>
              <code>{head.verifierKey}</code>
            </dd>
          </dl>
        </section>
        <section className="section" aria-labelledby="head">
          <h2 id="head">{said.head}</h2>
          <dl className="facts">
            <dt>{said.entries}</dt>
            <dd>{count(head.size)}</dd>
            <dt>{said.root}</dt>
            <dd>
              <code>{head.root}</code>
            </dd>
            <dt>{said.headAt}</dt>
            <dd>{moment(head.at)}</dd>
          </dl>
          <details>
            <summary>{said.note}</summary>
            <pre className="figures note-text" tabIndex={0}>
              {head.note}
            </pre>
          </details>
          <h3>{said.stamps}</h3>
          <Stamps stamps={stamps} isConfigured={state.timeStamps} />
          <OtherHeads stamps={stamps} pending={state.pendingTimeStamps} />
        </section>
        <section className="section" aria-labelledby="room">
          <h2 id="room">{said.disk}</h2>
          <meter
            aria-labelledby="room"
            min={0}
            max={totalBytes}
            low={LOW * totalBytes}
            optimum={totalBytes}
            value={freeBytes}
          />
          <dl className="facts">
            <dt>{said.disk}</dt>
            <dd>{said.free(bytes(freeBytes), bytes(totalBytes))}</dd>
            <dt>{said.jobs}</dt>
            <dd>{said.jobsSay(state.jobs.running, state.jobs.waiting)}</dd>
            <dt>{said.largest}</dt>
            <dd>{bytes(state.uploadBytes)}</dd>
          </dl>
        </section>
        <ScrubSection />
      </div>
    </Page>
  );
}

/** What is pending beside the latest head, for which it is said above. */
function OtherHeads({
  stamps,
  pending,
}: {
  readonly stamps: readonly TimeStamp[];
  readonly pending: ArchiveState['pendingTimeStamps'];
}) {
  const told = stamps.filter(({ state }) => state === 'pending').length;
  if (pending === null || pending.heads <= told) return null;
  return (
    <Notice tone="look" title={said.stampsPending(pending.heads, words.figures.moment(pending.since))}>
      {pending.cause !== null && <p>{pending.cause}</p>}
      {told === 0 && <p>{said.stampPendingNext}</p>}
    </Notice>
  );
}

function Stamps({ stamps, isConfigured }: { readonly stamps: readonly TimeStamp[]; readonly isConfigured: boolean }) {
  if (stamps.length === 0 && !isConfigured) {
    return (
      <Notice tone="note" title={said.noAuthority}>
        <p>{said.noAuthoritySays}</p>
      </Notice>
    );
  }
  if (stamps.length === 0) return <p>{said.noStampYet}</p>;
  return (
    <ul className="stack">
      {stamps.map(({ authority, state, at, cause }) => (
        <li key={authority}>
          {state === 'held' && at !== null ? (
            <p>{said.stampHeld(authority, words.figures.moment(at))}</p>
          ) : (
            <Notice tone="look" title={said.stampPending(authority)}>
              {cause !== null && <p>{cause}</p>}
              <p>{said.stampPendingNext}</p>
            </Notice>
          )}
        </li>
      ))}
    </ul>
  );
}
