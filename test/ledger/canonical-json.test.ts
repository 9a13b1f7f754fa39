import { describe, expect, it } from 'vitest';
import { canonicalBytes, formatCanonicalJson, parseCanonicalJson } from '../../src/model/index.ts';
import { refusalOf } from '../refusal-of.ts';

const utf8 = (text: string) => new TextEncoder().encode(text);
const read = (text: string) => refusalOf(() => parseCanonicalJson(utf8(text)));
const other = (character: number) => ({
  kind: 'malformed',
  pointer: '/',
  expected: 'canonical JSON (RFC 8785)',
  found: `another way of writing it, from character ${character} on`,
});
const unfit = (pointer: string, expected: string, found: string) => ({ kind: 'malformed', pointer, expected, found });

describe('a statement to be signed', () => {
  it('is written the same whatever order its members were put in', () => {
    expect(canonicalBytes({ title: 'Winterreise', page: 12 })).toEqual(utf8('{"page":12,"title":"Winterreise"}'));
    expect(canonicalBytes({ page: 12, title: 'Winterreise' })).toEqual(utf8('{"page":12,"title":"Winterreise"}'));
  });

  it('keeps a member called __proto__ like any other', () => {
    const text = '{"__proto__":{"a":1},"b":2}';
    expect(formatCanonicalJson(parseCanonicalJson(utf8(text)))).toBe(text);
  });

  it.each([
    [
      'a member that is not there',
      { pages: [{ remark: undefined }] },
      '/pages/0/remark',
      'a value of JSON',
      'undefined',
    ],
    ['a hole in a list', { pages: [1, , 3] }, '/pages/1', 'a value of JSON', 'undefined'], // eslint-disable-line no-sparse-arrays
    ['a function', [() => 1], '/0', 'a value of JSON', 'function'],
    ['a whole number too large to be one', 1n, '/', 'a value of JSON', 'bigint'],
    ['a date', { at: new Date(0) }, '/at', 'a plain object', 'Date'],
    ['bytes', { hash: new Uint8Array(2) }, '/hash', 'a plain object', 'Uint8Array'],
    ['a map', new Map(), '/', 'a plain object', 'Map'],
    ['no number', { 'a/b~': NaN }, '/a~1b~0', 'a finite number', 'NaN'],
    ['half a character in a text', ['\ud83d'], '/0', 'text of whole characters', 'half a surrogate pair'],
    ['half a character in a name', { '\ude00': 1 }, '/\ude00', 'text of whole characters', 'half a surrogate pair'],
  ])('with %s is refused, not written without it', (_, value, pointer, expected, found) => {
    expect(refusalOf(() => formatCanonicalJson(value))).toEqual(unfit(pointer, expected, found));
  });

  it('that contains itself is refused as nested too deep', () => {
    const round: unknown[] = [];
    round.push(round);
    expect(refusalOf(() => formatCanonicalJson(round))).toEqual({
      kind: 'too-large',
      what: 'nesting',
      limit: 100,
      found: 101,
      unit: 'levels',
    });
  });

  it('may be nested 100 deep', () => {
    const deep = '['.repeat(100) + ']'.repeat(100);
    expect(formatCanonicalJson(JSON.parse(deep))).toBe(deep);
  });
});

describe('a signed text that comes in', () => {
  it('is read when it is in the one form', () => {
    expect(parseCanonicalJson(utf8('{"a":[1,"é",null],"b":{}}'))).toEqual({ a: [1, 'é', null], b: {} });
  });

  it.each([
    ['one name twice', '{"a":1,"a":2}', 6],
    ['names in another order', '{"b":1,"a":2}', 3],
    ['a space', '{"a": 1}', 6],
    ['a line end after it', '{"a":1}\n', 8],
    ['a number with a needless nought', '[1.0]', 3],
    ['a minus before nought', '[-0]', 2],
    ['an escape that is not needed', '["\\u0041"]', 3],
    ['a number that no computer keeps exactly', '[9007199254740993]', 17],
  ])('with %s is refused', (_, text, character) => expect(read(text)).toEqual(other(character)));

  it('with a byte order mark, other bytes or no JSON at all is refused', () => {
    expect(read('\ufeff[]')).toEqual(unfit('/', 'JSON', 'text that is not'));
    expect(read('{"a":1')).toEqual(unfit('/', 'JSON', 'text that is not'));
    expect(read('["\\ud83d"]')).toEqual(unfit('/0', 'text of whole characters', 'half a surrogate pair'));
    const bytes = () => parseCanonicalJson(Uint8Array.of(0x22, 0xff, 0x22));
    expect(refusalOf(bytes)).toEqual(unfit('/', 'UTF-8', 'other bytes'));
  });

  it('nested a hundred thousand deep is refused, and the reader lives', () => {
    expect(read('['.repeat(1e5) + ']'.repeat(1e5))).toMatchObject({ kind: 'too-large', what: 'nesting' });
  });
});
