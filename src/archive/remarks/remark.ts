import { Refusal } from '../../model/index.ts';
import type { Actor } from '../actor.ts';
import type { KeptRemark, Part, Title } from '../catalogue/index.ts';
import { recorded, type Recording } from '../record/recorded.ts';
import { requireFinding } from '../standing.ts';

const MOST_CHARACTERS = 4000;

/**
 * Says something about a finding. It stays in the record for good, as an entry of the log with its words; it binds nobody,
 * and whoever wants to say otherwise says it after it.
 *
 * @param at  milliseconds since 1970
 * @throws {Refusal} not-found, not-allowed: as `requireStanding` for sending files, of the finding's title
 * @throws {Refusal} malformed: nothing is said, more than 4000 characters, or control characters other than line ends
 */
export async function sayOfFinding(
  archive: Recording,
  actor: Actor,
  { findingId, text }: { readonly findingId: string; readonly text: string },
  at: number,
): Promise<KeptRemark & { readonly title: Title; readonly part: Part }> {
  const said = requireWords(text);
  return recorded(archive, at, async (tables, log) => {
    const { title, part, finding } = await requireFinding(tables, actor, findingId, 'send-files');
    const subjects = [
      { what: 'finding', id: finding.id, sha256: null },
      { what: 'part', id: part.id, sha256: null },
    ];
    const logIndex = await log({ kind: 'finding-remark', titleId: title.id, by: actor, subjects, remark: said });
    const remark = { logIndex, findingId: finding.id, personId: actor.personId, text: said, atMs: at };
    await tables.remarks.add(remark);
    return { ...remark, title, part };
  });
}

function requireWords(text: string): string {
  const said = text.replace(/\r\n?/g, '\n').trim();
  const isPlain = /^[^\p{Cc}\p{Cs}]*$/u.test(said.replaceAll('\n', ''));
  if (said !== '' && said.length <= MOST_CHARACTERS && isPlain) return said;
  const found = said === '' ? 'nothing' : isPlain ? `${said.length} characters` : 'control characters';
  throw new Refusal('malformed', { pointer: '/text', expected: `1 to ${MOST_CHARACTERS} characters of text`, found });
}
