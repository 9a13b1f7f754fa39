import type { SigningKey } from '../../sealing/index.ts';
import { Refusal } from '../../model/index.ts';
import type { FailedCheck, Instant, SeenHead, Sha256, SignedFile, Signer } from '../../model/index.ts';

/** A file of a part, and what its copy says on every page. */
export interface CopyOrder {
  readonly pdf: Uint8Array;
  /** What people know the file by. */
  readonly fileName: string;
  /** The file as it is signed: a copy is made of these bytes and no others. */
  readonly file: SignedFile;
  readonly title: string;
  readonly part: string;
  /** When the copy is made. */
  readonly at: Instant;
}

/** Somebody who signed the dummy: with which statement, when, and which number it has in the log, from 0. */
export interface Signatory extends Signer {
  readonly at: Instant;
  readonly statement: string;
  readonly logIndex: number;
}

/** What a signed copy says beyond what a print copy does. */
export interface SignedCopyOrder extends CopyOrder {
  readonly inForceSince: Instant;
  /** In the order in which they signed. */
  readonly signatories: readonly Signatory[];
  /** The log when the copy is made, and the time-stamp on that head where there is one. */
  readonly head: SeenHead & { readonly timeStamp?: { readonly authority: string; readonly at: Instant } };
  /** The archive's own key, which seals the copy. */
  readonly key: SigningKey;
}

/** The same without the key: it stays where it is, and its owner seals what was made. */
export interface UnsealedCopyOrder extends Omit<SignedCopyOrder, 'key'> {
  /** For the key, in DER. */
  readonly certificate: Uint8Array;
}

/**
 * Holds a file against what is said of it, before a certificate is made that repeats it.
 *
 * @throws {Refusal} unproven: its bytes, their number or its pages are not those that were signed
 */
export function requireSameFile(
  { file, fileName }: CopyOrder,
  found: { readonly sha256: Sha256; readonly bytes: number; readonly pageCount: number },
): void {
  const checks: readonly FailedCheck[] = [
    differing('sha256', file.sha256, found.sha256),
    differing('bytes', file.bytes, found.bytes),
    differing('pages', file.pages.length, found.pageCount),
  ].flat();
  if (checks.length > 0) throw new Refusal('unproven', { what: fileName, checks });
}

function differing(name: string, expected: string | number, found: string | number): FailedCheck[] {
  return expected === found ? [] : [{ name, expected: `${expected}`, found: `${found}` }];
}
