import { useId } from 'react';
import type { Job } from '../call/answers.ts';
import { Tag } from '../pieces/notice.tsx';
import { words } from '../words/index.ts';

const said = words.files;

/** One step of the work on a file: whether it waits, how far it is, or that it is done. */
export function JobLine({ name, job }: { readonly name: string; readonly job: Job }) {
  const id = useId();
  const isRunning = job?.state === 'running';
  return (
    <div className="job">
      <div className="row">
        <span id={id}>{name}</span>
        {job === null && <span className="soft small">{said.notAsked}</span>}
        {job !== null && job.state !== 'running' && <Tag {...toneOf(job.state)}>{said.jobStates[job.state]}</Tag>}
        {isRunning && (
          <span className="soft small">
            {job.stage} {said.progress(job.done, job.total)}
          </span>
        )}
      </div>
      {isRunning && (
        <progress aria-labelledby={id} max={Math.max(1, job.total)} value={job.total > 0 ? job.done : undefined} />
      )}
    </div>
  );
}

function toneOf(state: NonNullable<Job>['state']): { readonly tone?: 'well' | 'stop' } {
  if (state === 'done') return { tone: 'well' };
  return state === 'failed' ? { tone: 'stop' } : {};
}
