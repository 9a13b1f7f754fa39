import { useMutation } from '@tanstack/react-query';
import { useState } from 'react';
import type { FileKind } from '../call/answers.ts';
import { Button } from '../pieces/button.tsx';
import { Field } from '../pieces/field.tsx';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { words } from '../words/index.ts';
import { FoldingFields } from './folding-fields.tsx';
import { FOUND_FROM_SHEETS, isFilledIn, sayFolding } from './folding.ts';
import type { FoldingChoice } from './folding.ts';
import { isOfPlates } from './pack-plates.ts';
import type { ToldOfFile } from './sending.ts';
import { send } from './sendings.ts';

const said = words.sending;
const KINDS: readonly FileKind[] = ['dummy', 'revision', 'plates-input'];
/** As the service takes it. */
const PAGES = /^( *\d{1,6}( *- *\d{1,6})?( *, *\d{1,6}( *- *\d{1,6})?)* *)?$/;

/** What is chosen for a file. */
interface Chosen extends Omit<ToldOfFile, 'folding'> {
  readonly folding: FoldingChoice;
}

interface TrayGiven {
  readonly titleId: string;
  readonly partId: string;
  /** What a file most likely is. */
  readonly likely: FileKind;
  readonly files: readonly File[];
  readonly onChange: (files: readonly File[]) => void;
}

/** Files that were chosen: what each is sent as is asked before anything goes over the line. */
export function Tray({ titleId, partId, likely, files, onChange }: TrayGiven) {
  const [told, tell] = useState<ReadonlyMap<File, Chosen>>(new Map());
  const kindOf = (file: File): FileKind => (isOfPlates(file) ? 'plates-input' : likely);
  const toldOf = (file: File): Chosen =>
    told.get(file) ?? { kind: kindOf(file), remark: '', pages: '', folding: FOUND_FROM_SHEETS };
  const isFit = files.every((file) => isFitting(toldOf(file)));
  const sending = useMutation({
    mutationFn: () => Promise.all(files.map(async (file) => ({ file, told: await whatIsTold(partId, toldOf(file)) }))),
    onSuccess: (chosen) => {
      send({ titleId, partId }, chosen);
      onChange([]);
    },
  });
  return (
    <form
      className="section"
      aria-labelledby="tray"
      onSubmit={(event) => {
        event.preventDefault();
        if (isFit) sending.mutate();
      }}
    >
      <h2 id="tray">{said.tray}</h2>
      {files.map((file, index) => (
        <TrayFile
          key={`${file.name} ${file.size} ${index}`}
          file={file}
          told={toldOf(file)}
          onTell={(now) => tell(new Map(told).set(file, now))}
          onTakeOut={() => onChange(files.filter((one) => one !== file))}
        />
      ))}
      {sending.error && <TroubleNotice error={sending.error} doing={said.sending} />}
      <div className="row">
        <Button type="submit" look="firm" isBusy={sending.isPending}>
          {said.send(files.length)}
        </Button>
      </div>
    </form>
  );
}

interface TrayFileGiven {
  readonly file: File;
  readonly told: Chosen;
  readonly onTell: (told: Chosen) => void;
  readonly onTakeOut: () => void;
}

function TrayFile({ file, told, onTell, onTakeOut }: TrayFileGiven) {
  const isPdf = /\.pdf$/i.test(file.name);
  return (
    <fieldset className="leaf tray-file">
      <legend>
        {file.name} <span className="soft small">{words.figures.bytes(file.size)}</span>
      </legend>
      {!isPdf && <p className="small">{isOfPlates(file) ? said.plates : said.noPdf}</p>}
      <Field label={said.kind} hint={said.kindHints[told.kind]}>
        {(ids) => (
          <select
            {...ids}
            value={told.kind}
            onChange={(event) => onTell({ ...told, kind: event.currentTarget.value as FileKind })}
          >
            {KINDS.map((kind) => (
              <option key={kind} value={kind}>
                {said.kinds[kind]}
              </option>
            ))}
          </select>
        )}
      </Field>
      {told.kind === 'revision' && (
        <Field label={said.pages} hint={said.pagesHint} wrong={PAGES.test(told.pages) ? undefined : said.pagesWrong}>
          {(ids) => (
            <input
              {...ids}
              value={told.pages}
              onChange={(event) => onTell({ ...told, pages: event.currentTarget.value })}
            />
          )}
        </Field>
      )}
      {told.kind === 'plates-input' && (
        <FoldingFields choice={told.folding} onChoose={(folding) => onTell({ ...told, folding })} />
      )}
      <Field label={said.remark} hint={said.remarkHint}>
        {(ids) => (
          <textarea
            {...ids}
            rows={2}
            maxLength={10_000}
            value={told.remark}
            onChange={(event) => onTell({ ...told, remark: event.currentTarget.value })}
          />
        )}
      </Field>
      <div className="row">
        <Button look="bare" aria-label={said.takeOut(file.name)} onClick={onTakeOut}>
          {said.takeOutShort}
        </Button>
      </div>
    </fieldset>
  );
}

function isFitting({ kind, pages, folding }: Chosen): boolean {
  return PAGES.test(pages) && (kind !== 'plates-input' || isFilledIn(folding));
}

/** Pages are told of revisions only, and how it folds of a plates input. */
async function whatIsTold(partId: string, { kind, remark, pages, folding }: Chosen): Promise<ToldOfFile> {
  const isOfSheets = kind === 'plates-input';
  return {
    ...{ kind, remark, pages: kind === 'revision' ? pages.trim() : '' },
    folding: await sayFolding(partId, isOfSheets ? folding : FOUND_FROM_SHEETS),
  };
}
