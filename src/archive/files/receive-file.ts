import { Refusal } from '../../model/index.ts';
import type { LogSubject, SaidFolding } from '../../model/index.ts';
import type { Actor } from '../actor.ts';
import type { FileKind, PageRange, SentFile, Tables } from '../catalogue/index.ts';
import type { Archive } from '../open-archive.ts';
import { recorded } from '../record/recorded.ts';
import { foldingWords } from '../sheets/folding-words.ts';
import { requireFolding } from '../sheets/require-folding.ts';
import { requirePart } from '../standing.ts';
import { fileBelow, readKey } from './file-below.ts';
import { requireRanges, wordsOf } from './lay-over.ts';

/** What a sender says of a file whose bytes have arrived. */
export interface FileToReceive {
  readonly partId: string;
  readonly kind: FileKind;
  /** As the sender's machine calls it. */
  readonly name: string;
  readonly remark: string;
  /** Where only some pages were sent: which pages of the book they replace; null for a whole file. */
  readonly replaces: readonly PageRange[] | null;
  /** How sheets fold, where that is said; else it is found from them. */
  readonly folding?: SaidFolding | null;
  /** Of the blob, which is kept already. */
  readonly sha256: string;
}

/** As the catalogue has it. */
const LONGEST = { name: 500, remark: 10_000 };

/**
 * Takes a file into a part: row, entry in the log and the job to read it are on disk when it returns. Where only some
 * pages were sent, they are laid over the latest file at this moment.
 *
 * @param at  milliseconds since 1970
 * @param also  what is to be noted in the same transaction
 * @throws {Refusal} not-found: there is no such part for this person, or the blob did not arrive
 * @throws {Refusal} not-allowed: the person may not send files
 * @throws {Refusal} malformed: an empty or too long name, a dummy of some pages only, or ranges as `requireRanges`
 * @throws {Refusal} malformed, not-found: as `requireFolding`
 * @throws {Refusal} out-of-step: pages to be laid over a part without any file
 */
export async function receiveFile(
  archive: Pick<Archive, 'blobs' | 'catalogue' | 'identity'>,
  actor: Actor,
  given: FileToReceive,
  at: number,
  also: (tables: Tables, file: SentFile) => Promise<void> = async () => undefined,
): Promise<SentFile> {
  const { partId, kind, folding = null, sha256 } = given;
  const [name, remark] = [textOf('name', given.name), textOf('remark', given.remark)];
  if (name === '') throw new Refusal('malformed', { pointer: '/name', expected: 'a name', found: 'nothing' });
  if (kind === 'dummy' && given.replaces !== null) {
    throw new Refusal('malformed', { pointer: '/replaces', expected: 'a whole dummy', found: 'some pages of one' });
  }
  const ranges = given.replaces && requireRanges(given.replaces);
  const bytes = await archive.blobs.sizeOf(sha256);
  return recorded(archive, at, async (tables, log) => {
    const { part } = await requirePart(tables, actor, partId, 'send-files');
    if (bytes === null) throw new Refusal('not-found', { what: 'the file’s bytes' });
    await requireFolding(tables, { partId, kind, folding }, ranges === null);
    await tables.blobs.add({ sha256, bytes, at });
    const below = ranges && (await fileBelow(tables, partId, kind));
    const replaces = ranges && below && { fileId: below.id, pages: ranges };
    const told = { partId, kind, name, remark, replaces, folding, senderId: actor.personId, sha256, at };
    const file = await tables.files.add(told);
    await log({
      kind: 'upload',
      titleId: part.titleId,
      by: actor,
      subjects: subjectsOf(file, below),
      remark: await wordsOfFile(tables, file),
    });
    await tables.jobs.add({ kind: 'read', key: readKey(file.id), order: { fileId: file.id }, at });
    await also(tables, file);
    return file;
  });
}

function textOf(field: keyof typeof LONGEST, given: string): string {
  const text = given.trim();
  if (text.length <= LONGEST[field]) return text;
  const [expected, found] = [`at most ${LONGEST[field]} characters`, `${text.length}`];
  throw new Refusal('malformed', { pointer: `/${field}`, expected, found });
}

function subjectsOf(file: SentFile, below: SentFile | null): readonly LogSubject[] {
  const laidOver = below === null ? [] : [{ what: 'laid-over', id: below.id, sha256: below.sha256 }];
  const { folding } = file;
  const givenPlan = folding !== null && 'plan' in folding ? [planSubject(file.id, folding.plan)] : [];
  return [
    { what: 'file', id: file.id, sha256: file.sha256 },
    { what: 'part', id: file.partId, sha256: null },
    ...laidOver,
    ...givenPlan,
  ];
}

function planSubject(id: string, sha256: string): LogSubject {
  return { what: 'given-plan', id, sha256 };
}

/** What a file was sent as, for the log: what the hash does not say is said here, and the sender's own remark after it. */
async function wordsOfFile(tables: Pick<Tables, 'files'>, file: SentFile): Promise<string> {
  const { kind, revisionNumber, name, remark, replaces, folding } = file;
  const below = replaces && (await tables.files.get(replaces.fileId));
  const laid = replaces && below ? `, ${wordsOf(replaces.pages)} over ${fileWords(below)}` : '';
  const folded = folding === null ? '' : `, folded ${foldingWords(folding)}`;
  const what = kind === 'revision' ? `revision ${revisionNumber}` : kind === 'dummy' ? 'dummy' : 'plates input';
  return `${what}: ${name}${laid}${folded}${remark === '' ? '' : `; ${remark}`}`;
}

function fileWords({ kind, revisionNumber, name }: SentFile): string {
  return kind === 'revision' ? `revision ${revisionNumber}` : name;
}
