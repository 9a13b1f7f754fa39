import { expect, test } from 'vitest';
import { rateMeter } from '../../../web/send/rate.ts';
import { isSameFile, secondsLeft } from '../../../web/send/sending.ts';
import type { Sending } from '../../../web/send/sending.ts';

const BEGUN: Sending = {
  ...{
    id: 'a',
    titleId: 't',
    partId: 'p',
    kind: 'revision',
    remark: '',
    pages: '',
    folding: {},
    url: null,
    fileId: null,
  },
  ...{ name: 'book.pdf', bytes: 1000, modifiedMs: 5, state: 'sending', sent: 400, perSecond: 100, error: null },
};

test('a file is known again by its name, its size and when it was saved', () => {
  const file = (name: string, size: number, lastModified: number) =>
    new File([new Uint8Array(size)], name, { lastModified });
  const same = [
    file('book.pdf', 1000, 5),
    file('other.pdf', 1000, 5),
    file('book.pdf', 999, 5),
    file('book.pdf', 1000, 6),
  ];
  expect(same.map((one) => isSameFile(BEGUN, one))).toEqual([true, false, false, false]);
});

test('the time left is told only while bytes go over the line', () => {
  expect(secondsLeft(BEGUN)).toBe(6);
  expect(secondsLeft({ ...BEGUN, perSecond: 0 })).toBe(null);
  expect(secondsLeft({ ...BEGUN, state: 'paused' })).toBe(null);
});

test('a rate begins with the first stretch of time, follows slowly, and leaves out what is too short to say anything', () => {
  const meter = rateMeter(1000, 500);
  expect(meter.at(1100, 10_500)).toBe(0);
  expect(meter.at(2000, 100_500)).toBe(100_000);
  expect(meter.at(3000, 100_500)).toBe(75_000);
  expect(meter.at(3100, 999_999)).toBe(75_000);
});
