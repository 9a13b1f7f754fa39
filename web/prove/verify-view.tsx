import './no-code-from-words.ts';
import { useMutation } from '@tanstack/react-query';
import { useState } from 'react';
import { checkPack, type EvidenceCheck, type PackAnswer } from '../../src/evidence/index.ts';
import { Refusal } from '../../src/model/index.ts';
import { fingerprintOfHash } from '../../src/sealing/index.ts';
import { Trouble } from '../call/trouble.ts';
import { Field } from '../pieces/field.tsx';
import { Notice, type Tone } from '../pieces/notice.tsx';
import { Page } from '../pieces/page.tsx';
import { Table } from '../pieces/table.tsx';
import { TroubleNotice } from '../pieces/trouble-notice.tsx';
import { CheckTable, type ShownCheck } from '../signing/check-table.tsx';
import { rememberedHead } from '../signing/remembered-head.ts';
import { words } from '../words/index.ts';
import { openDropped } from './open-dropped.ts';

const said = words.prove;

/** Anybody checks an evidence pack here, without an account; the pack stays in this browser. */
export default function VerifyView() {
  const [isOver, setOver] = useState(false);
  const checking = useMutation({
    mutationFn: async (file: File) => {
      const answer = await checkPack(await openDropped(file), seenHere());
      return { name: file.name, answer };
    },
  });
  const take = (files: FileList | null): void => {
    const file = files?.[0];
    setOver(false);
    if (file !== undefined) checking.mutate(file);
  };
  return (
    <Page title={said.verifyHeading}>
      <div className="stack-wide">
        <div className="stack">
          <p>{said.verifyLead}</p>
          <div
            className={isOver ? 'drop-pack over' : 'drop-pack'}
            onDragOver={(event) => {
              event.preventDefault();
              setOver(true);
            }}
            onDragLeave={() => setOver(false)}
            onDrop={(event) => {
              event.preventDefault();
              take(event.dataTransfer.files);
            }}
          >
            <Field label={said.pack} hint={said.packHint}>
              {(ids) => (
                <input
                  {...ids}
                  type="file"
                  accept=".zip,application/zip"
                  onChange={(event) => take(event.currentTarget.files)}
                />
              )}
            </Field>
          </div>
          {checking.isPending && <p role="status">{said.checking}</p>}
          {checking.error && <TroubleNotice error={shownTrouble(checking.error)} doing={said.verifying} />}
        </div>
        {checking.data && <Answer {...checking.data} />}
        <p className="soft">{said.verifyCaution}</p>
      </div>
    </Page>
  );
}

/** A head that this browser remembers is held against the pack, where the pack is of that archive. */
function seenHere() {
  const head = rememberedHead();
  return head === null ? {} : { seen: `${head.verifierKey}\n${head.note}` };
}

function shownTrouble(error: unknown): unknown {
  return error instanceof Refusal ? new Trouble('unreadable', error.message) : error;
}

function Answer({ name, answer: { checks, keys } }: { readonly name: string; readonly answer: PackAnswer }) {
  const failed = checks.filter(({ check }) => check.outcome === 'fails').length;
  const open = checks.filter(({ check }) => check.outcome === 'not-checked').length;
  const tone: Tone = failed > 0 ? 'stop' : 'well';
  return (
    <>
      <Notice
        tone={tone}
        title={failed > 0 ? said.broken(failed, checks.length) : said.sound(checks.length - open)}
        isNews
      >
        <p className="file-name">{name}</p>
        {failed === 0 && open > 0 && <p>{said.open(open)}</p>}
        <p>{failed > 0 ? said.brokenNext : said.soundNext}</p>
      </Notice>
      <section className="section" aria-labelledby="keys-of-pack">
        <h2 id="keys-of-pack">{said.keysHeading}</h2>
        <p>{said.keysSay}</p>
        <Table name={said.keysHeading} heads={said.keyHeads}>
          {keys.map(({ of, fingerprint }) => (
            <tr key={`${of} ${fingerprint}`}>
              <th scope="row">{of}</th>
              <td>
                <code>{readable(of, fingerprint)}</code>
              </td>
            </tr>
          ))}
        </Table>
      </section>
      <section className="section" aria-labelledby="checks-of-pack">
        <h2 id="checks-of-pack">{said.checksHeading}</h2>
        {open + failed > 0 && (
          <CheckTable checks={shown(ordered(checks).filter(({ check }) => check.outcome !== 'holds'))} />
        )}
        <details>
          <summary>{said.holding(checks.length - open - failed)}</summary>
          <CheckTable checks={shown(checks.filter(({ check }) => check.outcome === 'holds'))} />
        </details>
      </section>
    </>
  );
}

/** A certificate's fingerprint in the form that is read aloud; an archive's key as it stands. */
function readable(of: string, fingerprint: string): string {
  if (of.startsWith('the archive ')) return fingerprint;
  return fingerprintOfHash(Uint8Array.from(fingerprint.match(/../g) ?? [], (two) => Number.parseInt(two, 16)));
}

function shown(checks: readonly EvidenceCheck[]): readonly ShownCheck[] {
  return checks.map(({ about, check }) => ({ about: `${about}: ${said.nameOf(check.name)}`, check }));
}

const RANK = { fails: 0, 'not-checked': 1, holds: 2 } as const;

/** What a person has to read comes first. */
function ordered(checks: readonly EvidenceCheck[]): readonly EvidenceCheck[] {
  return checks.toSorted((one, other) => RANK[one.check.outcome] - RANK[other.check.outcome]);
}
