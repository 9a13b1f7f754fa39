import { useRef, useState } from 'react';
import { Link } from 'wouter';
import { paths } from '../paths.ts';
import { Button } from '../pieces/button.tsx';
import { Notice, Tag } from '../pieces/notice.tsx';
import type { Tone } from '../pieces/notice.tsx';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { words } from '../words/index.ts';
import { secondsLeft } from './sending.ts';
import type { Sending, SendingState } from './sending.ts';
import { attachAgain, giveUp, goOn, pause } from './sendings.ts';

const said = words.sending;

const TONES: Readonly<Record<SendingState, Tone>> = {
  waiting: 'note',
  sending: 'note',
  paused: 'look',
  interrupted: 'look',
  unattached: 'look',
  refused: 'stop',
  arrived: 'well',
};

/** A file on its way: how far it is, how fast, how long it takes, and what can be done with it. */
export function SendingRow({ sending }: { readonly sending: Sending }) {
  const { id, titleId, name, bytes, sent, perSecond, state, fileId, error } = sending;
  const left = secondsLeft(sending);
  const isOver = state === 'arrived' || state === 'refused';
  return (
    <article className={state === 'arrived' ? 'leaf arrived' : 'leaf sending'} aria-label={name}>
      <div className="row">
        <strong className="file-name">{name}</strong>
        <Tag tone={TONES[state]}>{said.states[state]}</Tag>
      </div>
      {!isOver && (
        <>
          <progress aria-label={name} max={Math.max(1, bytes)} value={sent} />
          <p className="soft small">
            {said.progress(sent, bytes)}
            {left !== null && ` · ${said.rate(perSecond)} · ${said.left(left)}`}
          </p>
        </>
      )}
      {state === 'refused' && <TroubleNotice error={error} doing={said.sending} />}
      <div className="row">
        {(state === 'sending' || state === 'waiting') && <Button onClick={() => pause(id)}>{said.pause}</Button>}
        {(state === 'paused' || state === 'interrupted') && <Button onClick={() => goOn(id)}>{said.goOn}</Button>}
        {state === 'unattached' && <ChooseAgain sending={sending} />}
        {state === 'arrived' && fileId !== null && <Link href={paths.file(titleId, fileId)}>{said.arrivedTo}</Link>}
        <Button look="bare" onClick={() => giveUp(id)}>
          {isOver ? said.putAway : said.giveUp}
        </Button>
      </div>
    </article>
  );
}

/** A browser keeps no file over a reload: the same one has to be chosen again. */
function ChooseAgain({ sending }: { readonly sending: Sending }) {
  const input = useRef<HTMLInputElement>(null);
  const [isOther, setOther] = useState(false);
  return (
    <>
      <Button onClick={() => input.current?.click()}>{said.chooseAgain}</Button>
      <input
        ref={input}
        type="file"
        hidden
        onChange={(event) => {
          const file = event.currentTarget.files?.[0];
          event.currentTarget.value = '';
          if (file !== undefined) setOther(!attachAgain(sending.partId, file));
        }}
      />
      {isOther && <Notice tone="look" title={said.notTheSame(sending.name)} isNews />}
    </>
  );
}
