/** Evidence packs: what is in them, and every check of one that needs no more than its bytes. */
export { CONSISTENCY_LINE, keyTexts } from './archive-key.ts';
export type { KnownElsewhere } from './check-known.ts';
export { checkPack, type FurtherSteps, type PackAnswer } from './check-pack.ts';
export {
  checked,
  fails,
  holds,
  namesIn,
  readOr,
  unchecked,
  type EvidenceCheck,
  type EvidenceCheckName,
  type Findings,
} from './evidence-check.ts';
export { hexSha256 } from './hex-sha256.ts';
export { sealText } from './list-seal.ts';
export { inName } from './names.ts';
export type { OpenedPack } from './opened-pack.ts';
export { formatPackFacts, type PackFacts, type PackFile, type PackReport, type PackScope } from './pack-facts.ts';
export { PACK_LIMITS, requireAtMost, requireMembers, type ListedMember } from './pack-limits.ts';
export { signedFiles } from './signed-files.ts';
