import { z } from 'zod';
import { Refusal } from '../model/index.ts';

const id = z.string().regex(/^[0-9a-z]{16}$/);
const sha256 = z.string().regex(/^[0-9a-f]{64}$/);
const instant = z.string().regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{3})?Z$/);
const text = z.string().max(20_000);
const count = z.int().min(0);
const pageNumber = z.int().min(1);
const member = z.string().max(300);
const list = <T extends z.ZodType>(of: T) => z.array(of).max(100_000).readonly();

const scope = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('title') }),
  z.strictObject({ kind: z.literal('part'), partId: id }),
  z.strictObject({ kind: z.literal('page'), partId: id, dummyPage: pageNumber }),
]);

/** Bytes by their hash, and where they lie in the pack; null where only the hash is there. */
const blob = z.strictObject({ sha256, member: member.nullable() });

const file = z.strictObject({
  id,
  partId: id,
  kind: z.enum(['dummy', 'revision', 'plates-input']),
  revisionNumber: pageNumber.nullable(),
  name: text,
  remark: text,
  senderId: id,
  at: instant,
  sha256,
  bytes: count,
  /** Of the bytes that were sent; null while they have not been read. */
  pages: count.nullable(),
  replaces: z
    .strictObject({ fileId: id, pages: list(z.strictObject({ first: pageNumber, last: pageNumber })) })
    .nullable(),
  /** Of pages that are laid over another file: the list of the book that came of it, by which statements name it. */
  pageList: blob.nullable(),
  /** The entry of the log that records it; null where none does. */
  entry: count.nullable(),
  /** Where it lies in the pack; null where only its hash is there. */
  member: member.nullable(),
});

const finding = z.strictObject({
  mark: z.string().max(200),
  id,
  kind: z.string().max(100),
  weight: z.enum(['stop', 'look', 'note']),
  dummyPage: pageNumber.nullable(),
  revisionPage: pageNumber.nullable(),
  says: text,
});

const report = z.strictObject({
  id,
  partId: id,
  dummyId: id,
  fileId: id,
  verdict: z.enum(['match', 'differs']),
  sha256,
  at: instant,
  entry: count.nullable(),
  member,
  /** Of imposed sheets: the book that they fold to, which is what the report is about, and the plan of it. */
  folded: z.strictObject({ book: blob, plan: blob }).nullable(),
  /** Of a page's pack only those of the page. */
  findings: list(finding),
  /** What shows them, by mark and side. */
  pictures: list(
    z.strictObject({ mark: z.string().max(200), side: z.enum(['dummy', 'revision', 'difference']), member }),
  ),
});

const statement = z.strictObject({
  entry: count,
  kind: z.enum(['key-confirmation', 'sign-off', 'ruling', 'release', 'revocation', 'withdrawal', 'replacement']),
  partId: id.nullable(),
  at: instant,
  personId: id,
  certificate: sha256,
  /** SHA-256 of what was signed. */
  sha256,
});

const pageState = z.strictObject({
  fileId: id,
  /** The page of this file that stands for the dummy's; null where none does. */
  pageNumber: pageNumber.nullable(),
  state: z.enum(['dummy', 'same-content', 'same-picture', 'differs', 'missing', 'not-compared']),
  contentHash: sha256.nullable(),
  picture: member.nullable(),
});

const facts = z.strictObject({
  format: z.literal('witnessleaf-evidence/1'),
  archive: z.strictObject({ origin: z.string().max(200), verifierKey: z.string().max(400) }),
  madeAt: instant,
  scope,
  contents: z.enum(['files', 'hashes']),
  head: z.strictObject({ size: pageNumber, root: sha256 }),
  title: z.strictObject({ id, name: text, formerNames: list(text) }),
  parties: list(z.strictObject({ id, name: text, standing: z.enum(['publisher', 'printer', 'sight', 'none']) })),
  people: list(z.strictObject({ id, partyId: id, name: text })),
  parts: list(z.strictObject({ id, name: text })),
  files: list(file),
  reports: list(report),
  statements: list(statement),
  certificates: list(
    z.strictObject({
      sha256,
      fingerprint: z.string().max(100),
      personId: id,
      introducedAt: instant,
      revokedFrom: instant.nullable(),
    }),
  ),
  timeStamps: list(
    z.strictObject({ size: pageNumber, authority: text, heldAt: instant.nullable(), member: member.nullable() }),
  ),
  history: list(z.strictObject({ partId: id, dummyPage: pageNumber, states: list(pageState) })),
  entries: list(count),
});

/** What a pack says of itself, for programs: everything that its account is made of. */
export type PackFacts = z.infer<typeof facts>;
/** What a pack is about. */
export type PackScope = PackFacts['scope'];
/** A file as a pack tells of it. */
export type PackFile = PackFacts['files'][number];
/** A report as a pack tells of it. */
export type PackReport = PackFacts['reports'][number];

/** `pack.json`: the same facts give the same bytes. */
export function formatPackFacts(given: PackFacts): string {
  return `${JSON.stringify(given, null, 1)}\n`;
}

/**
 * Reads `pack.json`.
 *
 * @throws {Refusal} malformed: not JSON, a member missing, unknown or not of its form
 */
export function parsePackFacts(bytes: Uint8Array): PackFacts {
  let value: unknown;
  try {
    value = JSON.parse(new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes));
  } catch (cause) {
    throw new Refusal('malformed', { pointer: 'pack.json', expected: 'JSON', found: 'something else' }, cause);
  }
  const read = facts.safeParse(value);
  if (read.success) return read.data;
  const [issue] = read.error.issues;
  const pointer = `pack.json: /${issue?.path.join('/') ?? ''}`;
  throw new Refusal('malformed', {
    pointer,
    expected: 'what witnessleaf-evidence/1 has there',
    found: `${issue?.message}`,
  });
}
