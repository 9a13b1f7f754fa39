import { Refusal } from '../../model/index.ts';
import { requireText } from '../../sealing/index.ts';

/**
 * A name or a short text as people read and sign it; space around it is dropped.
 *
 * @param longest  in UTF-16 units, as statements count
 * @throws {Refusal} malformed: empty, too long, or with characters that cannot be seen
 */
export function requireLine(text: string, pointer: string, longest: number): string {
  const line = requireText(text.trim(), pointer);
  if (line.length <= longest) return line;
  const found = `${line.length} characters`;
  throw new Refusal('malformed', { pointer, expected: `at most ${longest} characters`, found });
}

/** Characters of a name that a certificate can bear. @source RFC 5280 Appendix A.1: ub-common-name, ub-organization-name */
export const LONGEST_CERTIFIED = 64;
