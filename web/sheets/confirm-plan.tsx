import { useMutation, useQueryClient } from '@tanstack/react-query';
import { call } from '../call/call.ts';
import { Button } from '../pieces/button.tsx';
import { Notice } from '../pieces/notice.tsx';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { words } from '../words/index.ts';
import { useFolds } from './fold-again.tsx';
import type { Sheets } from './queries.ts';

const said = words.sheets;

interface ConfirmGiven {
  readonly titleId: string;
  readonly fileId: string;
  readonly sheets: Pick<Sheets, 'confirmed' | 'foldingPlan' | 'isCheckedSo'>;
}

/** Of a plan that was found from the sheets: that nobody confirmed it yet, or who did. */
export function ConfirmPlan({ titleId, fileId, sheets: { confirmed, foldingPlan, isCheckedSo } }: ConfirmGiven) {
  const queries = useQueryClient();
  const mayFold = useFolds(titleId);
  const confirming = useMutation({
    mutationFn: () => call('POST', `/api/files/${fileId}/folding/confirmation`, { body: { plan: foldingPlan } }),
    onSuccess: () => queries.invalidateQueries({ queryKey: ['title', titleId] }),
  });
  if (confirmed !== null) {
    return (
      <Notice tone="well" title={said.confirmed(confirmed.by.name, words.figures.moment(confirmed.at))}>
        <p>{said.confirmedSays}</p>
      </Notice>
    );
  }
  return (
    <Notice tone="look" title={said.confirm}>
      <p>{said.confirmSays}</p>
      {confirming.error && <TroubleNotice error={confirming.error} doing={said.confirming} />}
      {mayFold && isCheckedSo && (
        <div className="row">
          <Button isBusy={confirming.isPending} onClick={() => confirming.mutate()}>
            {said.confirmNow}
          </Button>
        </div>
      )}
    </Notice>
  );
}
