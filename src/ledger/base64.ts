import { Refusal } from '../model/index.ts';

/**
 * Bytes as checkpoints, proofs and signatures carry them in text.
 *
 * @source RFC 4648 4
 */
export function formatBase64(bytes: Uint8Array): string {
  return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(''));
}

/**
 * The bytes of a base64 text in the one form that `formatBase64` gives: padded, without white space, with noughts in
 * the bits left over. Otherwise one signature could be written in several ways.
 *
 * @param pointer  what is being read, for the refusal
 * @throws {Refusal} malformed: not base64, or not in that form
 * @source RFC 4648 4 and 3.5
 */
export function parseBase64(text: string, pointer: string): Uint8Array<ArrayBuffer> {
  let binary = '';
  try {
    binary = atob(text);
  } catch {
    // What atob does not take prints back as nothing, and is refused below.
  }
  if (btoa(binary) !== text) {
    throw new Refusal('malformed', { pointer, expected: 'base64 in its one form', found: text.slice(0, 80) });
  }
  return Uint8Array.from(binary, (character) => character.charCodeAt(0));
}
