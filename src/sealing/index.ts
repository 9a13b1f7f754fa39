/** Keys, certificates, statements and their signatures, time-stamps. Nothing here knows of files, titles or the log. */
export { makeCertificate, type CertificateRequest } from './certificate.ts';
export { checkCertificate, requireSoundCertificate, type CertificateCheckName } from './sound-certificate.ts';
export { certificateFacts, type CertificateFacts } from './certificate-facts.ts';
export { sha256, sha256Hex } from './digest.ts';
export { checkDraft, type DraftCheckName, type MeantStatement } from './check-draft.ts';
export type { PersonName } from './distinguished-name.ts';
export { fingerprintOf, fingerprintOfHash, matchesFingerprint, parseFingerprint } from './fingerprint.ts';
export { makeKeyFile, type KeyFileContent } from './key-file.ts';
export { makeKeyPair, type KeyKind, type KeyPair } from './key-pair.ts';
export { daysAfter, formatInstant } from './moment.ts';
export { openKeyFile, type OpenedKey } from './open-key-file.ts';
export { formatPem } from './pem.ts';
export { sealContent, sealPdfHash, type SigningKey } from './sign.ts';
export {
  checkStatement,
  requireStatement,
  signStatement,
  type SignedStatement,
  type StatementAnswer,
  type StatementCheckName,
  type StatementClaim,
} from './sign-statement.ts';
export { newStatementId, parseStatement, statementBytes } from './statement.ts';
export { sayStatement } from './statement-words.ts';
export { requireText } from './text.ts';
export { makeTimeStampRequest, type TimeStampRequest } from './time-stamp-request.ts';
export { tokenOfResponse } from './time-stamp-token.ts';
export {
  checkSeal,
  requireSeal,
  type PinnedCertificate,
  type SealAnswer,
  type SealCheckName,
  type SealClaim,
} from './verify.ts';
export {
  checkTimeStamp,
  requireTimeStamp,
  type TimeStampAnswer,
  type TimeStampCheckName,
  type TimeStampClaim,
} from './verify-time-stamp.ts';
