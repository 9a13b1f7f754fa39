import { expect, test } from 'vitest';
import { ANYTHING, linesThatFit } from '../../../web/archive/lines-that-fit.ts';
import type { Line } from '../../../web/archive/queries.ts';
import { recordAsCsv, recordAsJson } from '../../../web/archive/record-export.ts';

const line = (index: number, more: Partial<Line['entry']>, says: readonly string[] = []): Line => ({
  index,
  leafHash: `hash ${index}`,
  says,
  entry: {
    ...{ format: 'witnessleaf-entry/1', title: 't', kind: 'upload', at: '2031-03-02T09:00:00.000Z' },
    ...{ by: { party: 'printer', person: 'p1' }, salt: '0'.repeat(32), subjects: [], remark: '' },
    ...more,
  },
});

const LINES = [
  line(3, { remark: '=cmd|"x", and a “comma, too”', subjects: [{ what: 'file', id: 'f1', sha256: 'abc' }] }),
  line(4, {
    kind: 'report',
    at: '2031-03-03T00:00:00.000Z',
    by: { party: 'archive', person: null },
    remark: 'differs',
  }),
  line(7, { kind: 'statement', at: '2031-03-04T10:00:00.000Z', by: { party: 'publisher', person: 'p2' } }, ['Signed.']),
];
const NAMES = new Map([['p1', 'Ada Weiher']]);

test('a record is narrowed by what happened, since which day, and by words of who, what and which', () => {
  const fit = (wanted: Partial<typeof ANYTHING>) =>
    linesThatFit(LINES, { ...ANYTHING, ...wanted }, NAMES).map(({ index }) => index);
  expect(fit({})).toEqual([3, 4, 7]);
  expect(fit({ kind: 'report' })).toEqual([4]);
  expect(fit({ since: '2031-03-03' })).toEqual([4, 7]);
  expect(fit({ text: ' ada ' })).toEqual([3]);
  expect(fit({ text: 'ABC' })).toEqual([3]);
  expect(fit({ text: 'signed' })).toEqual([7]);
  expect(fit({ text: 'the archive' })).toEqual([4]);
  expect(fit({ text: 'nobody', kind: 'report' })).toEqual([]);
});

test('a record as a table quotes what it must and holds back what a program would take for a formula', () => {
  expect(recordAsCsv(LINES, NAMES).split('\r\n')).toEqual([
    'entry,at,kind,by,person,remark,subjects,leaf hash',
    `3,2031-03-02T09:00:00.000Z,upload,printer,Ada Weiher,"'=cmd|""x"", and a “comma, too”",file abc,hash 3`,
    '4,2031-03-03T00:00:00.000Z,report,archive,,differs,,hash 4',
    '7,2031-03-04T10:00:00.000Z,statement,publisher,p2,Signed.,,hash 7',
    '',
  ]);
});

test('a record as it is kept has every entry in full', () => {
  const read = JSON.parse(recordAsJson(LINES)) as readonly { readonly entry: unknown; readonly index: number }[];
  expect(read.map(({ index, entry }) => [index, entry])).toEqual(LINES.map(({ index, entry }) => [index, entry]));
});
