import { Refusal } from '../model/index.ts';
import { TAG } from './der.ts';

/** A value as it lies in a file. `bytes` is all of it, `content` what follows tag and length; both are views. */
export interface DerValue {
  readonly tag: number;
  readonly bytes: Uint8Array;
  readonly content: Uint8Array;
}

/** Deeper than any signature or key file nests; the limit keeps a hostile one from exhausting the stack. */
const DEEPEST = 64;

/**
 * Reads the one value that some bytes are.
 *
 * @param file  what the bytes are called in a refusal
 * @throws {Refusal} unreadable: cut short, something after the value, or a length that DER does not allow
 * @source ITU-T X.690 (2021) 8.1, 10.1
 */
export function readDer(bytes: Uint8Array, file: string): DerValue {
  const value = valueAt(bytes, 0, file);
  if (value.bytes.length !== bytes.length) throw damaged(file, 'something stands after its end');
  return value;
}

/**
 * The values inside a constructed one.
 *
 * @throws {Refusal} unreadable: as `readDer`
 */
export function membersOf(value: DerValue, file: string): readonly DerValue[] {
  const members: DerValue[] = [];
  for (let at = 0; at < value.content.length;) {
    const member = valueAt(value.content, at, file);
    members.push(member);
    at += member.bytes.length;
  }
  return members;
}

/**
 * The member that lies at a path of indices, where each step is of the tag that is asked for last.
 *
 * @throws {Refusal} unreadable: there is none, or it is of another type
 */
export function memberAt(value: DerValue, path: readonly number[], tag: number, file: string): DerValue {
  if (path.length > DEEPEST) throw damaged(file, 'nested too deep');
  let found: DerValue | undefined = value;
  for (const index of path) found = membersOf(found, file)[index] ?? missing(file, path);
  return requireTag(found, tag, file);
}

/** The value itself, if it is of this type. @throws {Refusal} unreadable: it is of another */
export function requireTag(value: DerValue | undefined, tag: number, file: string): DerValue {
  if (value?.tag !== tag) {
    const found = value === undefined ? 'nothing' : `tag ${value.tag.toString(16)}`;
    throw damaged(file, `tag ${tag.toString(16)} expected, ${found} found`);
  }
  return value;
}

/** An object identifier in dotted form. @throws {Refusal} unreadable: it is none @source ITU-T X.690 (2021) 8.19 */
export function oidOf(value: DerValue | undefined, file: string): string {
  const { content } = requireTag(value, TAG.objectIdentifier, file);
  const arcs: number[] = [];
  let arc = 0;
  for (const byte of content) {
    arc = arc * 128 + (byte & 0x7f);
    if (byte < 0x80) {
      arcs.push(arc);
      arc = 0;
    }
  }
  const first = Math.min(2, Math.floor((arcs[0] ?? 0) / 40));
  return [first, (arcs[0] ?? 0) - first * 40, ...arcs.slice(1)].join('.');
}

/** A whole number of at most 48 bits. @throws {Refusal} unreadable: it is none, below 0 or larger */
export function numberOf(value: DerValue | undefined, file: string): number {
  const { content } = requireTag(value, TAG.integer, file);
  if (content.length === 0 || content.length > 6 || content[0]! >= 0x80) throw damaged(file, 'a number out of range');
  return content.reduce((number, byte) => number * 256 + byte, 0);
}

function valueAt(bytes: Uint8Array, at: number, file: string): DerValue {
  const tag = bytes[at];
  const first = bytes[at + 1];
  if (tag === undefined || first === undefined) throw damaged(file, 'it is cut short');
  if ((tag & 0x1f) === 0x1f) throw damaged(file, 'a tag of more than one byte');
  const digits = first < 0x80 ? 0 : first & 0x7f;
  if (first === 0x80 || digits > 4) throw damaged(file, 'a length without end or of more than 4 bytes');
  const lengthBytes = bytes.subarray(at + 2, at + 2 + digits);
  const length = digits === 0 ? first : lengthBytes.reduce((number, byte) => number * 256 + byte, 0);
  const shortest = digits === 0 || (length >= 0x80 && lengthBytes[0] !== 0);
  if (lengthBytes.length < digits || !shortest) throw damaged(file, 'a length that is not in its shortest form');
  const begin = at + 2 + digits;
  if (begin + length > bytes.length) throw damaged(file, 'it is cut short');
  return { tag, bytes: bytes.subarray(at, begin + length), content: bytes.subarray(begin, begin + length) };
}

function missing(file: string, path: readonly number[]): never {
  throw damaged(file, `nothing at ${path.join('.')}`);
}

function damaged(file: string, reason: string): Refusal<'unreadable'> {
  return new Refusal('unreadable', { file, reason });
}
