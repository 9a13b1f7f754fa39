import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { Refusal } from '../model/index.ts';
import type { EvidenceCheck, PackAnswer } from '../evidence/index.ts';
import { printable, verifyPack } from '../reporting/index.ts';
import type { VerifyTask } from './arguments.ts';
import type { Desk } from './desk.ts';
import { EXIT } from './exit-status.ts';

/**
 * Checks an evidence pack and prints a line for each member of which everything holds, one for each check that does not
 * hold or could not be made, and the keys that a person must still compare.
 *
 * @returns the exit status: 0 where everything holds, 1 where something does not, 2 where something could not be checked
 * @throws {Refusal} not-found: there is no such pack, or no such file of a head
 * @throws {Refusal} unreadable, malformed, too-large: as `verifyPack`
 */
export async function verify(task: VerifyTask, desk: Desk): Promise<number> {
  const { pack, seen, fingerprints } = task;
  const head = seen === null ? {} : { seen: await readHead(resolve(desk.folder, seen)) };
  const answer = await verifyPack(resolve(desk.folder, pack), { ...head, fingerprints });
  for (const line of [...linesOf(answer.checks), ...keyLines(answer)]) desk.out.write(`${printable(line)}\n`);
  const outcomes = answer.checks.map(({ check }) => check.outcome);
  const failed = outcomes.filter((outcome) => outcome === 'fails').length;
  const open = outcomes.filter((outcome) => outcome === 'not-checked').length;
  desk.out.write(`${sumOf(answer.checks.length, failed, open)}\n`);
  return failed > 0 ? EXIT.differs : open > 0 ? EXIT.failed : EXIT.matches;
}

async function readHead(path: string): Promise<string> {
  try {
    return await readFile(path, 'utf8');
  } catch (cause) {
    throw new Refusal('not-found', { what: path }, cause);
  }
}

/** By member, in the order of proof: what a person has to read stands in full, the rest is counted. */
function linesOf(checks: readonly EvidenceCheck[]): readonly string[] {
  const byMember = Map.groupBy(checks, ({ about }) => about);
  return [...byMember].flatMap(([about, own]) => {
    const wrong = own.flatMap(({ check }) => {
      if (check.outcome === 'holds') return [];
      if (check.outcome === 'not-checked') return [`not checked    ${about}: ${check.name}: ${check.why}`];
      return [`DOES NOT HOLD  ${about}: ${check.name}: ${check.expected} expected, ${check.found} found`];
    });
    if (wrong.length > 0) return wrong;
    return [`holds          ${about}${own.length === 1 ? '' : ` (${own.length} checks)`}`];
  });
}

function keyLines({ keys }: PackAnswer): readonly string[] {
  return keys.map(({ of, fingerprint }) => `to compare     ${fingerprint}  ${of}`);
}

function sumOf(checks: number, failed: number, open: number): string {
  if (failed > 0) return `${failed} of ${checks} checks do not hold: do not rely on this pack`;
  if (open > 0) return `nothing fails, but ${open} of ${checks} checks could not be made`;
  return `all ${checks} checks hold; what rests on the keys rests on your comparing them`;
}
