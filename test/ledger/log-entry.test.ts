import { describe, expect, it } from 'vitest';
import { hashLeaf, hexOf } from '../../src/ledger/index.ts';
import {
  canonicalBytes,
  formatLogEntry,
  LOG_ENTRY_KINDS,
  parseLogEntry,
  type LogEntry,
} from '../../src/model/index.ts';
import { refusalOf } from '../refusal-of.ts';

const upload: LogEntry = {
  format: 'witnessleaf-entry/1',
  kind: 'upload',
  title: 'winterreise',
  at: '2031-05-02T16:04:00.000Z',
  by: { party: 'printer', person: 'p-17' },
  subjects: [{ what: 'file', id: 'r-2', sha256: 'ab'.repeat(32) }],
  remark: 'Seiten 12–13 neu',
  salt: '0123456789abcdef0123456789abcdef',
};
const TEXT =
  '{"at":"2031-05-02T16:04:00.000Z","by":{"party":"printer","person":"p-17"},"format":"witnessleaf-entry/1",' +
  `"kind":"upload","remark":"Seiten 12–13 neu","salt":"0123456789abcdef0123456789abcdef","subjects":[{"id":"r-2","sha256":"${'ab'.repeat(32)}","what":"file"}],` +
  '"title":"winterreise"}';

const changed = (change: object) => refusalOf(() => parseLogEntry(canonicalBytes({ ...upload, ...change })));
const subject = (change: object) => ({ subjects: [{ what: 'file', id: 'r-2', sha256: null, ...change }] });

describe('an entry of the log', () => {
  it('is written in one way, and read back', () => {
    expect(new TextDecoder().decode(formatLogEntry(upload))).toBe(TEXT);
    expect(parseLogEntry(new TextEncoder().encode(TEXT))).toEqual(upload);
  });

  it('that says something else stands elsewhere in the tree', () => {
    const other = formatLogEntry({ ...upload, remark: 'Seiten 12–14 neu' });
    expect(hexOf(hashLeaf(other))).not.toBe(hexOf(hashLeaf(formatLogEntry(upload))));
  });

  it.each(LOG_ENTRY_KINDS)('may be of the kind %s', (kind) => {
    expect(parseLogEntry(formatLogEntry({ ...upload, kind })).kind).toBe(kind);
  });

  it('may be by the archive itself, about no title, on nothing that has bytes', () => {
    const entry: LogEntry = { ...upload, title: null, by: { party: 'archive', person: null }, ...subject({}) };
    expect(parseLogEntry(formatLogEntry(entry))).toEqual(entry);
  });

  it.each([
    ['of another format', { format: 'witnessleaf-entry/2' }, '/format', 'witnessleaf-entry/1', 'witnessleaf-entry/2'],
    ['of no known kind', { kind: 'erased' }, '/kind', LOG_ENTRY_KINDS.join(', '), 'erased'],
    ['about a title with a space', { title: 'two words' }, '/title', 'an identifier or null', 'two words'],
    ['at no time', { at: 'yesterday' }, '/at', 'a time as 2031-05-02T16:04:00.000Z', 'yesterday'],
    [
      'at a local time',
      { at: '2031-05-02T16:04:00.000+02:00' },
      '/at',
      'a time as 2031-05-02T16:04:00.000Z',
      '2031-05-02T16:04:00.000+02:00',
    ],
    [
      'in a 13th month',
      { at: '2031-13-02T16:04:00.000Z' },
      '/at',
      'a time as 2031-05-02T16:04:00.000Z',
      '2031-13-02T16:04:00.000Z',
    ],
    ['with a remark that is no text', { remark: 7 }, '/remark', 'text', '7'],
    [
      'with a member too many',
      { note: '' },
      '/',
      'the members at, by, format, kind, remark, salt, subjects, title',
      'at, by, format, kind, note, remark, salt, subjects, title',
    ],
    ['with a salt that is too short', { salt: 'ab' }, '/salt', '32 hexadecimal digits', 'ab'],
    ['by nobody', { by: null }, '/by', 'an object', 'null'],
    [
      'by no party',
      { by: { party: 'author', person: 'a' } },
      '/by/party',
      'publisher, printer, guest, member, archive',
      'author',
    ],
    ['by a party without a person', { by: { party: 'printer', person: null } }, '/by/person', 'an identifier', 'null'],
    ['by a person as the archive', { by: { party: 'archive', person: 'a' } }, '/by/person', 'null', 'a'],
    ['with one subject for a list', { subjects: {} }, '/subjects', 'a list', '{}'],
    ['on a subject without a name', subject({ id: '' }), '/subjects/0/id', 'an identifier', ''],
    ['on a subject that is no word', subject({ what: 'A File' }), '/subjects/0/what', 'a word', 'A File'],
    [
      'with a hash in capitals',
      subject({ sha256: 'AB'.repeat(32) }),
      '/subjects/0/sha256',
      '64 hexadecimal digits or null',
      'AB'.repeat(32),
    ],
    ['with half a hash', subject({ sha256: 'ab' }), '/subjects/0/sha256', '64 hexadecimal digits or null', 'ab'],
  ])('%s is refused', (_, change, pointer, expected, found) => {
    expect(changed(change)).toEqual({ kind: 'malformed', pointer, expected, found });
  });

  it('is not written either when it would not be read', () => {
    const wrong = { ...upload, at: '2031-05-02' };
    expect(refusalOf(() => formatLogEntry(wrong))).toMatchObject({ kind: 'malformed', pointer: '/at' });
  });
});
