import { Refusal } from '../model/index.ts';
import type { Actor } from './actor.ts';
import type {
  KeptFinding,
  KeptReport,
  Part,
  Person,
  Right,
  SentFile,
  Standing,
  Tables,
  Title,
} from './catalogue/index.ts';

/** Somebody who sees a title, and as what. */
export interface Seen {
  readonly title: Title;
  readonly standing: Standing;
  readonly person: Person;
}

/**
 * The title, for somebody who may see it and, where a right is asked for, may act on it: the one place that decides it.
 * To look, sight of the title is enough; to send files and to sign, a person needs the right and their party must be one
 * of the two sides.
 *
 * @throws {Refusal} not-found: there is no such title, or they may not know of it; the same words
 * @throws {Refusal} not-allowed: they see it, but the right or the side is missing
 */
export async function requireStanding(
  tables: Tables,
  actor: Actor,
  titleId: string,
  right: Right = 'look',
): Promise<Seen> {
  return requireRight((await seenBy(tables, actor, titleId)) ?? refuse('title'), right);
}

/**
 * The part, as `requireStanding` for its title.
 *
 * @throws {Refusal} not-found, not-allowed: as `requireStanding`
 */
export async function requirePart(
  tables: Tables,
  actor: Actor,
  partId: string,
  right: Right = 'look',
): Promise<Seen & { readonly part: Part }> {
  return partSeen(tables, actor, { what: 'part', partId, right });
}

/**
 * The file, as `requireStanding` for the title of its part.
 *
 * @throws {Refusal} not-found, not-allowed: as `requireStanding`
 */
export async function requireFile(
  tables: Tables,
  actor: Actor,
  fileId: string,
  right: Right = 'look',
): Promise<Seen & { readonly part: Part; readonly file: SentFile }> {
  const file = (await tables.files.get(fileId)) ?? refuse('file');
  return { ...(await partSeen(tables, actor, { what: 'file', partId: file.partId, right })), file };
}

/**
 * The report, as `requireStanding` for the title of its part.
 *
 * @throws {Refusal} not-found, not-allowed: as `requireStanding`
 */
export async function requireReport(
  tables: Tables,
  actor: Actor,
  reportId: string,
  right: Right = 'look',
): Promise<Seen & { readonly part: Part; readonly report: KeptReport }> {
  const report = (await tables.reports.get(reportId)) ?? refuse('report');
  return { ...(await partSeen(tables, actor, { what: 'report', partId: report.partId, right })), report };
}

/**
 * The finding, as `requireStanding` for the title of its part.
 *
 * @throws {Refusal} not-found, not-allowed: as `requireStanding`
 */
export async function requireFinding(
  tables: Tables,
  actor: Actor,
  findingId: string,
  right: Right = 'look',
): Promise<Seen & { readonly part: Part; readonly finding: KeptFinding }> {
  const finding = (await tables.findings.get(findingId)) ?? refuse('finding');
  return { ...(await partSeen(tables, actor, { what: 'finding', partId: finding.partId, right })), finding };
}

/** The person who acts, of the party that they act for. @throws {Refusal} not-allowed: the right is missing */
export async function requirePerson(tables: Tables, actor: Actor, right: Right): Promise<Person> {
  const person = await tables.people.get(actor.personId);
  if (person?.partyId !== actor.partyId) return refuse('person');
  if (!person.rights.includes(right)) throw missing(`the right to ${NAMES[right]}`, NAMES[right]);
  return person;
}

const NAMES: Readonly<Record<Right, string>> = { look: 'look', 'send-files': 'send files', sign: 'sign' };

/** What cannot be seen is told of in the words of what was asked for, so that these words tell nothing. */
async function partSeen(
  tables: Tables,
  actor: Actor,
  { what, partId, right }: { readonly what: string; readonly partId: string; readonly right: Right },
): Promise<Seen & { readonly part: Part }> {
  const part = (await tables.titles.part(partId)) ?? refuse(what);
  const seen = (await seenBy(tables, actor, part.titleId)) ?? refuse(what);
  return { ...requireRight(seen, right), part };
}

async function seenBy(tables: Tables, actor: Actor, titleId: string): Promise<Seen | null> {
  const person = await tables.people.get(actor.personId);
  if (person?.partyId !== actor.partyId || !person.rights.includes('look')) return null;
  const standing = await tables.sight.standing(titleId, actor.partyId);
  const title = standing === null ? null : await tables.titles.get(titleId);
  return title === null || standing === null ? null : { title, standing, person };
}

function requireRight(seen: Seen, right: Right): Seen {
  if (right === 'look') return seen;
  if (seen.standing === 'sight') throw missing('the role of publisher or printer', NAMES[right]);
  if (!seen.person.rights.includes(right)) throw missing(`the right to ${NAMES[right]}`, NAMES[right]);
  return seen;
}

function missing(what: string, to: string): Refusal<'not-allowed'> {
  return new Refusal('not-allowed', { what: to, missing: what });
}

function refuse(what: string): never {
  throw new Refusal('not-found', { what });
}
