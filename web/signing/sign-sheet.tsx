import { useMutation, useQueryClient, useSuspenseQuery } from '@tanstack/react-query';
import { useId } from 'react';
import { Link } from 'wouter';
import { sayStatement } from '../../src/sealing/index.ts';
import { troubleOf } from '../call/trouble.ts';
import { OpenKey } from '../keys/open-key.tsx';
import { useOwnKey, type OwnKey } from '../keys/own-key.ts';
import { paths } from '../paths.ts';
import { Button } from '../pieces/button.tsx';
import { Notice } from '../pieces/notice.tsx';
import { titleQuery } from '../titles/queries.ts';
import { words } from '../words/index.ts';
import { CheckTable } from './check-table.tsx';
import { draftHere, type CheckedDraft } from './draft.ts';
import { signAndSend, type TakenStatement } from './kept-statement.ts';
import { SigningTrouble } from './signing-notice.tsx';
import type { AnyWish } from './wish.ts';

const said = words.signing;

interface SheetGiven {
  readonly wish: AnyWish;
  /** What signing does here, on the button. */
  readonly deed: string;
  readonly onBack?: (() => void) | undefined;
  readonly onTaken?: ((taken: TakenStatement) => void) | undefined;
}

/** The one way in which anything is signed: the key, the draft that is checked and read, the signature, what came of it. */
export function SignSheet({ wish, deed, onBack, onTaken }: SheetGiven) {
  const own = useOwnKey();
  const id = useId();
  return (
    <section className="sheet stack" aria-labelledby={id}>
      <h3 id={id}>{said.heading}</h3>
      {own === null ? (
        <>
          <p>
            {said.keyNeeded} <Link href={paths.keys}>{said.noKey}</Link>
          </p>
          <OpenKey />
        </>
      ) : (
        <Reading key={JSON.stringify(wish)} wish={wish} deed={deed} own={own} onBack={onBack} onTaken={onTaken} />
      )}
    </section>
  );
}

function Reading({ wish, deed, own, onBack, onTaken }: SheetGiven & { readonly own: OwnKey }) {
  const queries = useQueryClient();
  const { data: heard } = useSuspenseQuery(titleQuery(wish.titleId));
  const { id, name, standing } = heard.value;
  const drafting = useMutation({
    mutationFn: async (): Promise<CheckedDraft> => {
      if (standing === 'sight') throw new Error(said.onlySight);
      return draftHere(wish, own, { title: { id, name }, party: standing });
    },
  });
  const signing = useMutation({
    mutationFn: (draft: CheckedDraft) => signAndSend(draft, own),
    onSuccess: (taken) => onTaken?.(taken),
    // what was refused will be refused again: it is to be drafted anew, from how things stand now
    onError: (error) => mayBeSentAgain(error) || drafting.reset(),
    onSettled: () => {
      void queries.invalidateQueries({ queryKey: ['title', id] });
      void queries.invalidateQueries({ queryKey: ['desk'] });
      void queries.invalidateQueries({ queryKey: ['certificates'] });
    },
  });
  if (signing.data !== undefined) return <Taken taken={signing.data} />;
  const draft = drafting.data;
  const read = (): void => {
    signing.reset();
    drafting.mutate();
  };
  return (
    <>
      <p className="soft small">{said.withKey(own.name, own.organisation, own.fingerprint)}</p>
      {drafting.error && <SigningTrouble error={drafting.error} />}
      {signing.error && <SigningTrouble error={signing.error} />}
      {draft === undefined ? (
        <div className="row thumb">
          <Button look="firm" isBusy={drafting.isPending} onClick={read}>
            {drafting.isPending ? said.drafting : said.read}
          </Button>
          {onBack && (
            <Button look="bare" onClick={onBack}>
              {said.back}
            </Button>
          )}
        </div>
      ) : (
        <>
          <Drafted draft={draft} />
          <div className="row thumb">
            <Button look="firm" isBusy={signing.isPending} onClick={() => signing.mutate(draft)}>
              {signing.isPending ? said.signing : deed}
            </Button>
            <Button look="bare" onClick={() => (onBack === undefined ? drafting.reset() : onBack())}>
              {said.notYet}
            </Button>
          </div>
        </>
      )}
    </>
  );
}

/** Whether a signature that was not taken may be taken at the next try. */
function mayBeSentAgain(error: Error): boolean {
  return /^(unreachable|unavailable|too-many|unidentified|fault)$/.test(troubleOf(error).kind);
}

function Drafted({ draft: { statement, checks, isFirst } }: { readonly draft: CheckedDraft }) {
  return (
    <>
      <Sentences says={sayStatement(statement)} />
      {isFirst && (
        <Notice tone="look" title={said.first}>
          <p>{said.firstSays}</p>
        </Notice>
      )}
      <details>
        <summary>{said.checked(checks.length)}</summary>
        <CheckTable checks={checks.map((check) => ({ about: said.ofDraft(check.name), check }))} />
      </details>
      <p className="soft small">{said.caution}</p>
    </>
  );
}

function Taken({ taken: { kept, checks } }: { readonly taken: TakenStatement }) {
  const holds = checks.every(({ outcome }) => outcome === 'holds');
  return (
    <>
      <Notice tone={holds ? 'well' : 'stop'} title={holds ? said.taken(kept.logIndex) : said.takenBadly} isNews>
        <p>{holds ? said.takenSays : said.takenBadlySays}</p>
      </Notice>
      <Sentences says={kept.says} />
      <details open={!holds}>
        <summary>{said.checked(checks.length)}</summary>
        <CheckTable checks={checks.map((check) => ({ about: said.ofKept(check.name), check }))} />
      </details>
    </>
  );
}

/** A statement in full, as it is signed. */
function Sentences({ says }: { readonly says: readonly string[] }) {
  return (
    <div className="statement" tabIndex={0} role="group" aria-label={said.statement}>
      {says.map((sentence, at) => (
        <p key={`${at} ${sentence}`}>{sentence}</p>
      ))}
    </div>
  );
}
