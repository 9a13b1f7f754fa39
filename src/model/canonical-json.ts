import { Refusal } from './refusal.ts';

/** What JSON can say. */
export type Json = null | boolean | number | string | readonly Json[] | { readonly [name: string]: Json };

/** Values inside values; a statement needs six, and a hostile one must not exhaust the stack. */
const NESTING = 100;

/**
 * The one way to write a value as JSON, so that whoever writes the same value signs and hashes the same bytes. Members
 * are ordered by the UTF-16 code units of their names; no white space; numbers as ECMAScript writes them.
 *
 * @param value  null, booleans, finite numbers, strings, lists and plain objects of these; nothing is left out in
 *   silence, so a member that is `undefined` is refused
 * @throws {Refusal} malformed: something that JSON cannot say, or a surrogate without its other half
 * @throws {Refusal} too-large: nested more than 100 deep
 * @source RFC 8785 3.2; values in test/standards/ledger
 */
export function formatCanonicalJson(value: unknown): string {
  return written(value, 0, '');
}

/**
 * The bytes that are hashed and signed: `formatCanonicalJson` in UTF-8.
 *
 * @throws {Refusal} as `formatCanonicalJson`
 * @source RFC 8785 3.2.4
 */
export function canonicalBytes(value: unknown): Uint8Array<ArrayBuffer> {
  return new TextEncoder().encode(formatCanonicalJson(value));
}

/**
 * Reads canonical JSON, and only that: bytes that would not be written back the same are refused. Two members of one
 * name, another order, a byte order mark or a space all stop here, before anybody can read them in two ways.
 *
 * @throws {Refusal} malformed: not UTF-8, not JSON, or not in the canonical form
 * @throws {Refusal} as `formatCanonicalJson`
 * @source RFC 8785 3.1, which asks for I-JSON: RFC 7493 2.3 (no name twice), 2.1 (no lone surrogates)
 */
export function parseCanonicalJson(bytes: Uint8Array): Json {
  const text = decoded(bytes);
  let value: Json;
  try {
    value = JSON.parse(text) as Json;
  } catch (cause) {
    throw new Refusal('malformed', { pointer: '/', expected: 'JSON', found: 'text that is not' }, cause);
  }
  const canonical = formatCanonicalJson(value);
  if (canonical !== text) {
    let at = 0;
    while (canonical[at] === text[at]) at++;
    throw new Refusal('malformed', {
      pointer: '/',
      expected: 'canonical JSON (RFC 8785)',
      found: `another way of writing it, from character ${at + 1} on`,
    });
  }
  return value;
}

function decoded(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch (cause) {
    throw new Refusal('malformed', { pointer: '/', expected: 'UTF-8', found: 'other bytes' }, cause);
  }
}

/** A value that contains itself ends at the limit of nesting, like any other that goes too deep. */
function written(value: unknown, depth: number, pointer: string): string {
  switch (typeof value) {
    case 'boolean':
      return value ? 'true' : 'false';
    case 'number':
      if (!Number.isFinite(value)) return refuse(pointer, 'a finite number', `${value}`);
      // RFC 8785 3.2.2.3: ECMAScript's own form, which makes -0 a 0.
      return JSON.stringify(value);
    case 'string':
      return writtenText(value, pointer);
    case 'object':
      break;
    default:
      return refuse(pointer, 'a value of JSON', typeof value);
  }
  if (value === null) return 'null';
  if (depth >= NESTING) {
    throw new Refusal('too-large', { what: 'nesting', limit: NESTING, found: NESTING + 1, unit: 'levels' });
  }
  if (Array.isArray(value)) {
    // A hole in a list would be skipped by `map`, and a list written shorter than it is.
    const items = Array.from(value, (item, index) => written(item, depth + 1, `${pointer}/${index}`));
    return `[${items.join(',')}]`;
  }
  if (!isPlain(value)) return refuse(pointer, 'a plain object', value.constructor?.name ?? 'an object of a class');
  const members = Object.entries(value)
    // RFC 8785 3.2.3: by UTF-16 code units, which is how ECMAScript compares strings.
    .sort(([one], [other]) => (one < other ? -1 : 1))
    .map(([name, member]) => {
      const at = `${pointer}/${name.replaceAll('~', '~0').replaceAll('/', '~1')}`;
      return `${writtenText(name, at)}:${written(member, depth + 1, at)}`;
    });
  return `{${members.join(',')}}`;
}

function writtenText(text: string, pointer: string): string {
  if (!text.isWellFormed()) return refuse(pointer, 'text of whole characters', 'half a surrogate pair');
  // RFC 8785 3.2.2.2: the escapes of JSON.stringify are the ones asked for.
  return JSON.stringify(text);
}

/** Made by braces or by a parser, in whatever window; not a date, a map, bytes or an instance of a class. */
function isPlain(value: object): boolean {
  const prototype: unknown = Object.getPrototypeOf(value);
  return prototype === null || Object.getPrototypeOf(prototype) === null;
}

function refuse(pointer: string, expected: string, found: string): never {
  throw new Refusal('malformed', { pointer: pointer === '' ? '/' : pointer, expected, found });
}
