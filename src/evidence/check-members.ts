import { Refusal } from '../model/index.ts';
import { fails, holds, unchecked, type EvidenceCheck, type Findings } from './evidence-check.ts';

/** The three members that cannot be on the list. */
const UNLISTED: readonly string[] = ['MEMBERS', 'MEMBERS.seal', 'MEMBERS.seal.sig'];

/** Every member is there with the bytes that `MEMBERS` lists, and there is no other. */
export async function checkMembers(findings: Findings): Promise<readonly EvidenceCheck[]> {
  const { pack, found, listed } = findings;
  const checks: EvidenceCheck[] = [];
  for (const name of pack.names) {
    try {
      found.set(name, await pack.hash(name));
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      checks.push(
        error.kind === 'too-large'
          ? unchecked(name, 'bytes', error.message)
          : fails(name, 'bytes', 'bytes that can be read', error.message),
      );
    }
  }
  for (const name of UNLISTED) {
    if (!pack.names.includes(name)) checks.push(fails(name, 'there', 'this member', 'none'));
  }
  if (!pack.names.includes('MEMBERS')) return checks;
  checks.push(...readList(new TextDecoder().decode(await pack.read('MEMBERS')), listed));
  for (const [name, sha256] of listed) {
    const sum = found.get(name);
    if (sum === sha256) checks.push(holds(name, 'bytes'));
    else if (sum !== undefined) checks.push(fails(name, 'bytes', `SHA-256 ${sha256}`, `SHA-256 ${sum}`));
    else if (!pack.names.includes(name)) checks.push(fails(name, 'there', 'this member', 'none'));
  }
  for (const name of pack.names) {
    if (!listed.has(name) && !UNLISTED.includes(name)) {
      checks.push(fails(name, 'listed', 'a member that MEMBERS lists', 'one that it does not'));
    }
  }
  return checks;
}

function readList(text: string, listed: Map<string, string>): readonly EvidenceCheck[] {
  const lines = text.split('\n');
  const isWhole = lines.pop() === '';
  const checks: EvidenceCheck[] = [];
  const wrong = (found: string): void => {
    checks.push(fails('MEMBERS', 'listed', 'a SHA-256, two spaces and a name, each name once, sorted', found));
  };
  let last = '';
  if (!isWhole) wrong('a last line without its end');
  for (const line of lines) {
    const [, sha256, name] = /^([0-9a-f]{64}) {2}([A-Za-z0-9._/-]+)$/.exec(line) ?? [];
    if (sha256 === undefined || name === undefined) wrong(line.slice(0, 100));
    else if (name <= last) wrong(`${name} after ${last}`);
    else listed.set((last = name), sha256);
  }
  return checks;
}
