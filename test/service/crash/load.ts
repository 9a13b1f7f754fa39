import { createHash, randomBytes } from 'node:crypto';
import type { Statement } from '../../../src/model/index.ts';
import { sha256Hex, signStatement } from '../../../src/sealing/index.ts';
import { machineAt } from '../caller.ts';
import type { Caller } from '../caller.ts';
import type { ClientMemory, Sending } from './client-memory.ts';
import { asked, introduce, newKey } from './two-sides.ts';
import type { Side, TwoSides } from './two-sides.ts';

const TUS = { 'Tus-Resumable': '1.0.0' };
const PIECE = { ...TUS, 'Content-Type': 'application/offset+octet-stream' };
const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/** What the clients work with: where the service is in this life, who they are, what they remember. */
export interface Load {
  readonly origin: string;
  readonly sides: TwoSides;
  readonly memory: ClientMemory;
  readonly chance: () => number;
  /** A readable file; something is put behind it, so that no two are the same. */
  readonly book: Buffer;
}

/** Sends files in pieces, files at once, and statements, one after the other in three rows, until the service is gone. */
export async function loadUntilItEnds(load: Load): Promise<void> {
  await Promise.all([sendInPieces, sendAtOnce, makeStatements].map((row) => untilGone(load, row)));
}

/** A line that breaks off is what is waited for; an answer that should not have come is trouble. */
async function untilGone(load: Load, row: (load: Load) => Promise<void>): Promise<void> {
  try {
    for (;;) await row(load);
  } catch (error) {
    if (!(error instanceof TypeError)) load.memory.troubles.push(`${row.name}: ${String(error)}`);
  }
}

/** Sends one file by tus, or goes on with the one that a kill has cut off. */
async function sendInPieces({ origin, sides, memory, chance, book }: Load): Promise<void> {
  const who = machineAt(origin, sides.printer.token);
  const sending = memory.sending ?? (memory.sending = fileToSend(chance, book));
  if (sending.path === '') await beginSending(who, sides.part, sending);
  const told = await who.send('HEAD', sending.path, undefined, TUS);
  const offset = Number(told.headers.get('upload-offset'));
  if (told.status !== 200 || offset < sending.safe || offset > sending.sent) {
    throw new Error(`${sending.safe} bytes were safe and ${sending.sent} sent; now it says ${offset} (${told.status})`);
  }
  for (let from = offset; from < sending.bytes.length; from = sending.safe) {
    const piece = sending.bytes.subarray(from, from + Math.ceil(chance() * sending.bytes.length * 0.6));
    sending.sent = from + piece.length;
    await asked(who.send('PATCH', sending.path, piece, { ...PIECE, 'Upload-Offset': `${from}` }), 204);
    sending.safe = sending.sent;
  }
  const { file } = await asked<{ file: string | null }>(who.get(sending.path), 200);
  if (file === null) throw new Error('an upload that was acknowledged to its end is no file');
  memory.files.set(file, sha256(sending.bytes));
  memory.sending = null;
}

function fileToSend(chance: () => number, book: Buffer): Sending {
  return { bytes: newFile(chance, book), path: '', safe: 0, sent: 0 };
}

/** A book that can be read, or noise that cannot; never the same again. */
function newFile(chance: () => number, book: Buffer): Buffer {
  if (chance() < 0.3) return Buffer.concat([book, Buffer.from(`\n% ${randomBytes(8).toString('hex')}\n`)]);
  return randomBytes(Math.ceil(chance() * 2_000_000));
}

async function beginSending(who: Caller, part: string, sending: Sending): Promise<void> {
  const metadata = Object.entries({ part, kind: 'revision', filename: 'Buch.pdf', sha256: sha256(sending.bytes) })
    .map(([key, value]) => `${key} ${Buffer.from(value).toString('base64')}`)
    .join(',');
  const headers = { ...TUS, 'Upload-Length': `${sending.bytes.length}`, 'Upload-Metadata': metadata };
  const begun = await who.send('POST', '/api/uploads', undefined, headers);
  if (begun.status !== 201) throw new Error(`an upload could not begin: ${begun.text}`);
  sending.path = begun.headers.get('location') ?? '';
}

/** Sends one file with its digest, or once more the one that was not answered. */
async function sendAtOnce({ origin, sides, memory, chance, book }: Load): Promise<void> {
  const who = machineAt(origin, sides.publisher.token);
  const bytes = memory.unanswered ?? (memory.unanswered = newFile(chance, book));
  const digest = `sha-256=:${createHash('sha256').update(bytes).digest('base64')}:`;
  const path = `/api/parts/${sides.part}/files/Korrektur.pdf?kind=revision`;
  const heard = await who.send('PUT', path, bytes, { 'Content-Digest': digest });
  if (heard.status !== 200 && heard.status !== 201)
    throw new Error(`a file was answered ${heard.status}: ${heard.text}`);
  memory.files.set((heard.json as { id: string }).id, sha256(bytes));
  memory.unanswered = null;
}

/** A new key of the printer, confirmed by the publisher, then given up: two statements, and heads that are seen. */
async function makeStatements(load: Load): Promise<void> {
  const { origin, sides, memory } = load;
  const { printer, publisher } = sides;
  if (memory.unheard !== null) await bring(load, memory.unheard, [201, 409, 422]);
  const key = await newKey(printer);
  const certificate = await introduce(machineAt(origin, printer.token), key);
  await state(load, publisher, { kind: 'key-confirmation', certificate });
  await state(
    load,
    { ...printer, key },
    { kind: 'revocation', certificate, reason: 'Ein Versuch.', signWith: certificate },
  );
  await rememberHead(load);
}

async function state(load: Load, who: Side, order: object): Promise<void> {
  const { origin, sides, memory } = load;
  const caller = machineAt(origin, who.token);
  const drafts = `/api/titles/${sides.title}/drafts`;
  const { statement } = await asked<{ statement: Statement }>(caller.send('POST', drafts, order), 200);
  memory.unheard = { ...(await signStatement(statement, who.key)), token: who.token };
  await bring(load, memory.unheard, [201]);
}

/** Brings a statement; one that was brought before without an answer may be there already, and then all of it is. */
async function bring(
  load: Load,
  unheard: NonNullable<ClientMemory['unheard']>,
  fine: readonly number[],
): Promise<void> {
  const { token, ...signed } = unheard;
  const { origin, sides, memory } = load;
  const statements = `/api/titles/${sides.title}/statements`;
  const id = await sha256Hex(signed.content);
  const body = {
    content: Buffer.from(signed.content).toString('base64'),
    seal: Buffer.from(signed.seal).toString('base64'),
  };
  const caller = machineAt(origin, token);
  const heard = await caller.send('POST', statements, body);
  if (!fine.includes(heard.status)) throw new Error(`a statement was answered ${heard.status}: ${heard.text}`);
  const kept = heard.status === 201 ? heard : await caller.get(`${statements}/${id}`);
  if (kept.status >= 300) throw new Error(`a statement is refused and not there: ${heard.text}`);
  memory.statements.set(id, { ...signed, logIndex: (kept.json as { logIndex: number }).logIndex });
  memory.unheard = null;
}

/** The latest head, as a client keeps it. */
export async function rememberHead({
  origin,
  sides,
  memory,
}: Pick<Load, 'origin' | 'sides' | 'memory'>): Promise<void> {
  const who = machineAt(origin, sides.publisher.token);
  const head = await asked<{ size: number; note: string; verifierKey: string }>(who.get('/api/log/head'), 200);
  memory.verifierKey ||= head.verifierKey;
  memory.heads.set(head.size, head.note);
}
