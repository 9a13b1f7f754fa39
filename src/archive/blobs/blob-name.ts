import { Refusal } from '../../model/index.ts';

const SHAPE = /^[0-9a-f]{64}$/;

/** Whether a text is a SHA-256 in lower-case hexadecimal, which is how a blob is named. */
export function isBlobName(text: string): boolean {
  return SHAPE.test(text);
}

/**
 * The same text, safe to be a part of a path.
 *
 * @throws {Refusal} malformed: no SHA-256 in lower-case hexadecimal
 */
export function requireBlobName(text: string): string {
  if (isBlobName(text)) return text;
  const found = text.length > 80 ? `${text.length} characters` : JSON.stringify(text);
  throw new Refusal('malformed', { pointer: 'sha256', expected: '64 digits of hexadecimal, a to f', found });
}
