import { canonicalBytes, parseCanonicalJson, type Json } from './canonical-json.ts';
import { Refusal } from './refusal.ts';

/** What gets an entry in the archive's log. The list is closed; an unknown kind is refused. */
export const LOG_ENTRY_KINDS = [
  'archive-opened',
  'party-joined',
  'person-joined',
  'rights-changed',
  'title-opened',
  'title-renamed',
  'part-opened',
  'upload',
  'report',
  'statement',
  'key-introduced',
  'sight-given',
  'sight-taken',
  'finding-remark',
  'folding-said-again',
  'folding-confirmed',
  'export',
  'failed-verification',
] as const;

/** What an entry records. */
export type LogEntryKind = (typeof LOG_ENTRY_KINDS)[number];

/**
 * On whose behalf something was done: a side of the title, a guest who was given sight of it, or a member of some party
 * where no title is concerned. The archive itself makes reports and finds damage.
 */
export const LOG_PARTIES = ['publisher', 'printer', 'guest', 'member', 'archive'] as const;

/** Who did what an entry records. */
export interface LogActor {
  readonly party: (typeof LOG_PARTIES)[number];
  /** Identifier of the person or machine; null for the archive itself. */
  readonly person: string | null;
}

/** One thing that an entry is about. */
export interface LogSubject {
  /** What it is to the entry, in lower-case words with hyphens: file, page-hashes, report, signature, certificate … */
  readonly what: string;
  /** Its identifier in the archive. */
  readonly id: string;
  /** SHA-256 of its bytes, 64 lower-case digits; null where it has none, as a person. */
  readonly sha256: string | null;
}

/** One line of the archive's log. What it says is fixed for good by its hash in the tree. */
export interface LogEntry {
  readonly format: 'witnessleaf-entry/1';
  readonly kind: LogEntryKind;
  /** Identifier of the title, or null where it is about none. */
  readonly title: string | null;
  /** When, by the archive's clock: UTC to the millisecond, as 2031-05-02T16:04:00.000Z. */
  readonly at: string;
  readonly by: LogActor;
  /** 128 bits of chance, 32 lower-case digits: whoever sees the entry's hash in a proof cannot guess the entry. */
  readonly salt: string;
  readonly subjects: readonly LogSubject[];
  /** In words, for people: a sender's remark, what did not verify. Empty where there is nothing to add. */
  readonly remark: string;
}

const SHAPE = ['at', 'by', 'format', 'kind', 'remark', 'salt', 'subjects', 'title'];

/**
 * The bytes of an entry, which are kept and hashed into the log.
 *
 * @throws {Refusal} as `parseLogEntry`
 * @source RFC 8785 3.2
 */
export function formatLogEntry(entry: LogEntry): Uint8Array<ArrayBuffer> {
  const bytes = canonicalBytes(entry);
  parseLogEntry(bytes);
  return bytes;
}

/**
 * Reads an entry.
 *
 * @throws {Refusal} malformed: not canonical JSON, a member too many or too few, a kind, time or hash that is none
 * @throws {Refusal} as `parseCanonicalJson`
 * @source RFC 3339 5.6 for the time, narrowed to one form
 */
export function parseLogEntry(bytes: Uint8Array): LogEntry {
  const entry = membersOf(parseCanonicalJson(bytes), SHAPE, '');
  requireThat(entry.format === 'witnessleaf-entry/1', '/format', 'witnessleaf-entry/1', entry.format);
  requireOneOf(LOG_ENTRY_KINDS, '/kind', entry.kind);
  requireThat(entry.title === null || isWord(entry.title), '/title', 'an identifier or null', entry.title);
  requireThat(isTime(entry.at), '/at', 'a time as 2031-05-02T16:04:00.000Z', entry.at);
  requireThat(typeof entry.remark === 'string', '/remark', 'text', entry.remark);
  requireThat(isDigits(entry.salt, 32), '/salt', '32 hexadecimal digits', entry.salt);
  const by = membersOf(entry.by, ['party', 'person'], '/by');
  requireOneOf(LOG_PARTIES, '/by/party', by.party);
  const isArchive = by.party === 'archive';
  const person = isArchive ? by.person === null : isWord(by.person);
  requireThat(person, '/by/person', isArchive ? 'null' : 'an identifier', by.person);
  const subjects = entry.subjects;
  if (!Array.isArray(subjects)) throw unfit('/subjects', 'a list', subjects);
  subjects.forEach((one: Json, index) => requireSubject(one, `/subjects/${index}`));
  return entry as unknown as LogEntry;
}

function requireSubject(value: Json, pointer: string): void {
  const { what, id, sha256 } = membersOf(value, ['id', 'sha256', 'what'], pointer);
  requireThat(typeof what === 'string' && /^[a-z]+(-[a-z]+)*$/.test(what), `${pointer}/what`, 'a word', what);
  requireThat(isWord(id), `${pointer}/id`, 'an identifier', id);
  requireThat(sha256 === null || isDigits(sha256, 64), `${pointer}/sha256`, '64 hexadecimal digits or null', sha256);
}

/** The members of an object that has exactly these; `names` in order. */
function membersOf(value: Json | undefined, names: readonly string[], pointer: string): Record<string, Json> {
  if (value === null || typeof value !== 'object' || Array.isArray(value)) throw unfit(pointer, 'an object', value);
  const found = Object.keys(value).sort().join(', ');
  if (found !== names.join(', ')) throw unfit(pointer, `the members ${names.join(', ')}`, found);
  return value as Record<string, Json>;
}

/** Text of at least one character, without spaces and control characters. */
function isWord(value: Json | undefined): boolean {
  return typeof value === 'string' && /^[^\p{White_Space}\p{Cc}]+$/u.test(value);
}

/** Lower-case hexadecimal digits, so many. */
function isDigits(value: Json | undefined, count: number): boolean {
  return typeof value === 'string' && value.length === count && /^[0-9a-f]*$/.test(value);
}

function isTime(value: Json | undefined): boolean {
  const form = /^\d{4}-(\d\d)-(\d\d)T(\d\d):(\d\d):(\d\d)\.\d{3}Z$/.exec(typeof value === 'string' ? value : '');
  if (form === null) return false;
  const [month, day, hour, minute, second] = form.slice(1).map(Number) as [number, number, number, number, number];
  return month >= 1 && month <= 12 && day >= 1 && day <= 31 && hour <= 23 && minute <= 59 && second <= 59;
}

function requireOneOf(words: readonly string[], pointer: string, found: Json | undefined): void {
  requireThat(words.includes(found as string), pointer, words.join(', '), found);
}

function requireThat(holds: boolean, pointer: string, expected: string, found: Json | undefined): void {
  if (!holds) throw unfit(pointer, expected, found);
}

function unfit(pointer: string, expected: string, found: Json | undefined): Refusal {
  const shown = typeof found === 'string' ? found : (JSON.stringify(found) ?? 'nothing');
  return new Refusal('malformed', { pointer: pointer === '' ? '/' : pointer, expected, found: shown.slice(0, 200) });
}
