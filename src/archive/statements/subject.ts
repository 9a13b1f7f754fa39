import type { Statement, StatementKind, StatementOf } from '../../model/index.ts';
import { confirmationSubject, revocationSubject } from './key-subjects.ts';
import {
  releaseSubject,
  replacementSubject,
  rulingSubject,
  signOffSubject,
  withdrawalSubject,
} from './part-subjects.ts';
import type { FoundSubject, SubjectDesk, SubjectOf } from './subject-desk.ts';

/** A kind that is added to the model fails to compile here. */
const SUBJECTS: { readonly [K in StatementKind]: SubjectOf<K> } = {
  'key-confirmation': confirmationSubject,
  'sign-off': signOffSubject,
  ruling: rulingSubject,
  release: releaseSubject,
  revocation: revocationSubject,
  withdrawal: withdrawalSubject,
  replacement: replacementSubject,
};

/**
 * What a statement is about, if it is there as the statement has it, and may be stated as things stand.
 *
 * @throws {Refusal} unproven: something it names is not there, or its hashes are others
 * @throws {Refusal} out-of-step: things do not stand so, or not any more
 * @throws {Refusal} not-allowed: it is not for this side to state it
 * @throws {Refusal} unsettled: a release while findings are open
 */
export async function findSubject(desk: SubjectDesk, statement: Statement): Promise<FoundSubject> {
  return found(desk, statement);
}

function found<K extends StatementKind>(desk: SubjectDesk, statement: StatementOf<K>): Promise<FoundSubject> {
  return SUBJECTS[statement.kind](desk, statement);
}
