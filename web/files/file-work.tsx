import { useMutation, useQueryClient } from '@tanstack/react-query';
import type { Checking, SentFile } from '../call/answers.ts';
import { call } from '../call/call.ts';
import { Button } from '../pieces/button.tsx';
import { Notice } from '../pieces/notice.tsx';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { FoldAgain } from '../sheets/fold-again.tsx';
import { useMay } from '../session/me.ts';
import { words } from '../words/index.ts';
import { JobLine } from './job-line.tsx';
import { checkingQuery } from './queries.ts';

const said = words.files;

interface WorkGiven {
  readonly titleId: string;
  readonly file: SentFile;
  readonly checking: Checking;
}

/** The steps of the work on a file; a failed one says why, and can be tried again. */
export function FileWork({ titleId, file, checking }: WorkGiven) {
  const { reading, comparing, drawing } = checking;
  const failed = [reading, comparing, drawing].find((job) => job?.state === 'failed');
  return (
    <section className="section" aria-labelledby="work">
      <h2 id="work">{said.work}</h2>
      {failed && <Failed titleId={titleId} fileId={file.id} cause={failed.cause} />}
      {failed && failed === comparing && file.kind === 'plates-input' && <FoldAgain titleId={titleId} file={file} />}
      <div className="stack">
        <JobLine name={said.reading} job={reading} />
        {file.kind !== 'dummy' && (
          <>
            <JobLine name={said.comparing} job={comparing} />
            <JobLine name={said.drawing} job={drawing} />
          </>
        )}
      </div>
    </section>
  );
}

interface FailedGiven {
  readonly titleId: string;
  readonly fileId: string;
  readonly cause: string | null;
}

function Failed({ titleId, fileId, cause }: FailedGiven) {
  const queries = useQueryClient();
  const mayRetry = useMay('send-files');
  const retry = useMutation({
    mutationFn: async () => (await call<Checking>('POST', `/api/files/${fileId}/checking/retries`)).value,
    onSuccess: (now) => queries.setQueryData(checkingQuery(titleId, fileId).queryKey, now),
  });
  return (
    <Notice tone="stop" title={said.failed}>
      {cause !== null && <p>{cause}</p>}
      <p>
        {said.failedSafe} {said.failedNext}
      </p>
      {retry.error && <TroubleNotice error={retry.error} doing={said.retrying} />}
      {mayRetry && (
        <div className="row">
          <Button isBusy={retry.isPending} onClick={() => retry.mutate()}>
            {said.retry}
          </Button>
        </div>
      )}
    </Notice>
  );
}
