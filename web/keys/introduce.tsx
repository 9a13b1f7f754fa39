import { useMutation, useQueryClient } from '@tanstack/react-query';
import { formatBase64 } from '../../src/ledger/index.ts';
import { call } from '../call/call.ts';
import { Button } from '../pieces/button.tsx';
import { Notice } from '../pieces/notice.tsx';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { words } from '../words/index.ts';
import type { OwnKey } from './own-key.ts';
import { certificatesQuery, type Certificate } from './queries.ts';

const said = words.keys;

interface IntroduceGiven {
  readonly own: OwnKey;
  /** False: its file was not saved yet, and a key that is lost at once should not become known. */
  readonly isReady: boolean;
}

/** Makes a certificate known to the archive. The private key is no part of it. */
export function Introduce({ own, isReady }: IntroduceGiven) {
  const queries = useQueryClient();
  const introducing = useMutation({
    mutationFn: () => {
      const body = { der: formatBase64(own.key.certificate) };
      return call<Certificate>('POST', '/api/certificates', { body });
    },
    onSuccess: () =>
      Promise.all([
        queries.invalidateQueries({ queryKey: certificatesQuery.queryKey }),
        queries.invalidateQueries({ queryKey: ['title'] }),
      ]),
  });
  if (introducing.isSuccess) return <Notice tone="well" title={said.introduced} isNews />;
  return (
    <>
      {introducing.error && <TroubleNotice error={introducing.error} doing={said.introducing} />}
      <div className="row">
        <Button
          look={isReady ? 'firm' : 'plain'}
          disabled={!isReady}
          isBusy={introducing.isPending}
          onClick={() => introducing.mutate()}
        >
          {said.introduce}
        </Button>
        {!isReady && <span className="soft">{said.saveFirst}</span>}
      </div>
    </>
  );
}
