import { formatBase64, parseBase64 } from '../../ledger/index.ts';
import {
  failedChecks,
  Refusal,
  type Check,
  type Party,
  type Statement,
  type StatementKind,
} from '../../model/index.ts';
import { printable } from '../../reporting/index.ts';
import {
  certificateFacts,
  checkDraft,
  formatInstant,
  parseStatement,
  sayStatement,
  sha256Hex,
  signStatement,
  type MeantStatement,
  type SigningKey,
} from '../../sealing/index.ts';
import { EXIT } from '../exit-status.ts';
import { askServer, type ArchiveClient } from './ask-server.ts';
import type { ClientOption, ClientTools, Given } from './client-command.ts';
import { textOf } from './client-command.ts';
import { openNamedKey } from './key-file.ts';
import type { ListedTitle } from './find-part.ts';
import { followHere, meetHere } from './meet-log.ts';
import { PASSPHRASE_OPTION } from './passphrase.ts';
import { headsFolder } from './remembered-heads.ts';
import { SERVER_OPTIONS, serverOf } from './server-options.ts';

/** What every command needs that signs. */
export const SIGNING_OPTIONS: Readonly<Record<string, ClientOption>> = {
  key: { takes: 'FILE', says: 'your key file', needed: true },
  yes: { takes: null, says: 'signs without asking; the sentences are printed all the same' },
  'passphrase-file': PASSPHRASE_OPTION,
  ...SERVER_OPTIONS,
};

/** What somebody wants to state: how the archive is asked for a draft, and what the draft must say. */
interface Wish<K extends StatementKind> {
  readonly title: Pick<ListedTitle, 'id' | 'name' | 'standing'>;
  readonly kind: K;
  /** Beside the kind. */
  readonly order: Readonly<Record<string, unknown>>;
  /** What is known of its subject without the archive's word for it, or from other answers. */
  readonly subject: MeantStatement<K>['subject'];
  /** What else must hold of the draft. */
  readonly alsoCheck?: (this: void, statement: Statement) => readonly Check[];
}

/** A wish of any kind: the archive drafts what is signed, and is not believed. */
export type AnyWish = { readonly [K in StatementKind]: Wish<K> }[StatementKind];

/**
 * Has a statement drafted, holds it against what was wished and against the log that this machine has seen, shows it in
 * full sentences, asks, signs it here and sends it.
 *
 * @param wishFor  finds out what is wished, by asking the archive
 * @returns the exit status: 0 where it was taken, 2 where the person said no
 * @throws {Refusal} unproven: the draft is not what was wished, or the log that it names is not the one that was seen
 * before, continued
 * @throws {Refusal} as `askServer`
 */
export async function signAndSend(
  given: Given,
  tools: ClientTools,
  wishFor: (client: ArchiveClient) => Promise<AnyWish>,
): Promise<number> {
  const { desk } = tools;
  const client = askServer(await serverOf(given, tools), tools);
  const key = await openNamedKey(textOf(given, 'key'), given, tools);
  const wish = await wishFor(client);
  const met = await meetHere(client, headsFolder(tools.env));
  const statement = await draftedFor(wish, client, key, tools.today());
  await followHere(client, headsFolder(tools.env), met, statement.head);
  for (const sentence of sayStatement(statement)) desk.err.write(`${printable(sentence)}\n`);
  const { verifierKey } = met.keep;
  if (met.isFirst)
    desk.err.write(`${printable(`This machine sees this archive for the first time. Its key: ${verifierKey}`)}\n`);
  if (!(await agreesTo(given, tools))) {
    desk.err.write('Nothing was signed.\n');
    return EXIT.failed;
  }
  const { content, seal } = await signStatement(statement, key);
  const kept = await client.post<{ readonly id: string; readonly logIndex: number }>(
    `/api/titles/${wish.title.id}/statements`,
    { content: formatBase64(content), seal: formatBase64(seal) },
  );
  desk.out.write(`${kept.id}\n`);
  desk.err.write(`Signed, and taken as entry ${kept.logIndex} of the log.\n`);
  return EXIT.matches;
}

async function draftedFor(
  { title, kind, order, subject, alsoCheck }: AnyWish,
  client: ArchiveClient,
  { certificate }: SigningKey,
  nowMs: number,
): Promise<Statement> {
  const signWith = await sha256Hex(certificate);
  const body = { kind, ...order, signWith };
  const { content } = await client.post<{ readonly content: string }>(`/api/titles/${title.id}/drafts`, body);
  const statement = parseStatement(parseBase64(content, '/content'));
  const { commonName: name, organisation } = certificateFacts(certificate);
  const checks = failedChecks([
    ...checkDraft(statement, {
      kind,
      title: { id: title.id, name: title.name },
      signer: { party: sideOf(title), name, organisation, certificate: signWith },
      subject,
      now: formatInstant(new Date(nowMs)),
    }),
    ...(alsoCheck?.(statement) ?? []),
  ]);
  if (checks.length > 0) throw new Refusal('unproven', { what: 'the draft', checks });
  return statement;
}

/** For whom is signed; somebody without a side is given no draft. */
function sideOf({ name, standing }: AnyWish['title']): Party {
  if (standing === 'publisher' || standing === 'printer') return standing;
  throw new Refusal('not-allowed', { what: name, missing: 'a side that signs' });
}

async function agreesTo(given: Given, { asking }: ClientTools): Promise<boolean> {
  if (given.isSet('yes')) return true;
  if (!asking.isPossible)
    throw new Refusal('malformed', { pointer: '--yes', expected: 'it, in a script', found: 'none' });
  return /^y(es)?$/i.test((await asking.line('Sign this? (yes or no) ')).trim());
}
