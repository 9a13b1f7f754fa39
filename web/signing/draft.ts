import { parseBase64, requireContinues } from '../../src/ledger/index.ts';
import { failedChecks, Refusal, type Check, type Statement } from '../../src/model/index.ts';
import { checkDraft, formatInstant, parseStatement } from '../../src/sealing/index.ts';
import { call } from '../call/call.ts';
import type { OwnKey } from '../keys/own-key.ts';
import { meetHere, proveHere } from './meet-here.ts';
import { DraftTrouble } from './signing-trouble.ts';
import type { AnyWish, SigningSide } from './wish.ts';

/** A draft that says what was meant. */
export interface CheckedDraft {
  readonly statement: Statement;
  /** What was looked at; all of it holds. */
  readonly checks: readonly Check[];
  /** This browser meets the archive for the first time, and takes its log as it is. */
  readonly isFirst: boolean;
}

/**
 * Has a statement drafted and holds it against what was meant, and against the log as this browser has seen it. The
 * archive drafts, and is not believed.
 *
 * @throws {DraftTrouble} the draft is not what was meant, or on another history
 * @throws {SplitTrouble} the archive shows another history than before
 * @throws {Trouble} what the archive refuses
 */
export async function draftHere(wish: AnyWish, own: OwnKey, { title, party }: SigningSide): Promise<CheckedDraft> {
  const { head, isFirst } = await meetHere();
  const body = { kind: wish.kind, ...wish.order, signWith: own.id };
  const path = `/api/titles/${title.id}/drafts`;
  const { content } = (await call<{ readonly content: string }>('POST', path, { body })).value;
  const statement = parseStatement(parseBase64(content, '/content'));
  const checks: readonly Check[] = [
    ...checkDraft(statement, {
      kind: wish.kind,
      title,
      signer: { party, name: own.name, organisation: own.organisation, certificate: own.id },
      subject: wish.subject,
      now: formatInstant(new Date()),
    }),
    ...(wish.alsoCheck?.(statement) ?? []),
    await headCheck(() => requireContinues(head, statement.head, proveHere)),
  ];
  if (failedChecks(checks).length > 0) throw new DraftTrouble(checks);
  return { statement, checks, isFirst };
}

async function headCheck(require: () => Promise<void>): Promise<Check> {
  try {
    await require();
    return { name: 'head', outcome: 'holds' };
  } catch (error) {
    if (!(error instanceof Refusal) || error.kind !== 'unproven') throw error;
    const [failed] = (error as Refusal<'unproven'>).details.checks;
    return { name: 'head', outcome: 'fails', expected: failed?.expected ?? '', found: failed?.found ?? '' };
  }
}
