import type { SignedFile } from '../model/index.ts';
import type { Findings } from './evidence-check.ts';

/** Every file that a statement signs page by page, by the SHA-256 of its bytes. */
export function signedFiles(statements: Findings['statements']): ReadonlyMap<string, SignedFile> {
  const signed = new Map<string, SignedFile>();
  for (const statement of statements.values()) {
    if (statement.kind === 'sign-off' || statement.kind === 'replacement') {
      signed.set(statement.subject.dummy.sha256, statement.subject.dummy);
    }
    if (statement.kind === 'release') signed.set(statement.subject.platesInput.sha256, statement.subject.platesInput);
  }
  return signed;
}
