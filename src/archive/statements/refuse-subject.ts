import { Refusal } from '../../model/index.ts';

/** Refuses a statement whose subject is not what it says. @throws {Refusal} unproven: always */
export function refuseSubject(name: string, expected: string, found: string): never {
  throw new Refusal('unproven', { what: 'the subject of the statement', checks: [{ name, expected, found }] });
}

/** Requires that what a statement says is what is there. @throws {Refusal} unproven: it is not */
export function requireSame(name: string, expected: string, found: string): void {
  if (expected !== found) refuseSubject(name, expected, found);
}
