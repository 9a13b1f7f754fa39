import type { Instant } from '../model/index.ts';

/** The first line of a seal; no head of a log can begin like this, whose first line is a name without spaces. */
const SEAL_LINE = 'witnessleaf-evidence/1 members';

/** What is signed of a list of members. */
export function sealText(origin: string, at: Instant, listSha256: string): string {
  return `${SEAL_LINE}\n${origin}\n${at}\n${listSha256}\n`;
}
