import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { SentFile } from '../call/answers.ts';
import { call } from '../call/call.ts';
import { useSide } from '../decide/use-side.ts';
import { Button } from '../pieces/button.tsx';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { FoldingFields } from '../send/folding-fields.tsx';
import { FOUND_FROM_SHEETS, isFilledIn, sayFolding } from '../send/folding.ts';
import { useMay } from '../session/me.ts';
import { words } from '../words/index.ts';

const said = words.sheets;
const WAYS = ['plan', 'folds'] as const;

/** Whether one may say how sheets fold: of the printer’s side, with the right to send files. */
export function useFolds(titleId: string): boolean {
  const { side } = useSide(titleId);
  return useMay('send-files') && side === 'printer';
}

interface AgainGiven {
  readonly titleId: string;
  readonly file: SentFile;
}

/** Says of sheets that are there how they fold, by another plan or by folds; nothing for whoever may not. */
export function FoldAgain({ titleId, file }: AgainGiven) {
  const queries = useQueryClient();
  const mayFold = useFolds(titleId);
  const [choice, choose] = useState({ ...FOUND_FROM_SHEETS, by: 'plan' as 'plan' | 'folds' });
  const saying = useMutation({
    mutationFn: async () => {
      const body = await sayFolding(file.part, choice);
      return call('POST', `/api/files/${file.id}/folding`, { body });
    },
    onSuccess: () => queries.invalidateQueries({ queryKey: ['title', titleId] }),
  });
  if (!mayFold || file.replaces !== null) return null;
  return (
    // said, it is closed again
    <details key={JSON.stringify(file.folding)}>
      <summary>{said.again}</summary>
      <form
        className="stack"
        onSubmit={(event) => {
          event.preventDefault();
          if (isFilledIn(choice)) saying.mutate();
        }}
      >
        <p>{said.againSays}</p>
        <FoldingFields
          ways={WAYS}
          choice={choice}
          onChoose={(now) => choose({ ...now, by: now.by === 'folds' ? 'folds' : 'plan' })}
        />
        {saying.error && <TroubleNotice error={saying.error} doing={said.sayingAgain} />}
        <div className="row">
          <Button type="submit" isBusy={saying.isPending}>
            {said.checkAgain}
          </Button>
        </div>
      </form>
    </details>
  );
}
