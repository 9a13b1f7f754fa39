import { expect, test } from 'vitest';
import { sameFindings } from '../../../src/archive/checking/same-findings.ts';
import type { Appearance, KnownFinding } from '../../../src/archive/checking/same-findings.ts';
import type { Finding, FindingKind, Measured } from '../../../src/model/index.ts';

function appearance<K extends FindingKind>(kind: K, measured: Measured[K], page: string): Appearance {
  const place = { dummyPage: 1, revisionPage: 1, box: null, revisionBox: null };
  const finding = { id: 'f1', kind, weight: 'stop', ...place, measured, says: kind } as Finding & { id: string };
  return { finding, page: { key: page, sha256: page, pageNumber: 1 } };
}

/** Whether what was said of the one holds of the other, on pages that show the same. */
function isSame<K extends FindingKind>(kind: K, before: Measured[K], now: Measured[K], page = 'other'): boolean {
  const first = appearance(kind, before, 'one');
  const known: KnownFinding = { id: 'known', identity: 'known', first, pages: new Set(['one']) };
  return sameFindings([appearance(kind, now, page)], [known], () => true).has('f1');
}

const plate = { sheet: 1, side: 'front', ink: 'cyan' } as const;
const cell = { sheet: 1, side: 'front', row: 1, column: 2 } as const;

test('what was agreed of one plate is not agreed of another, though the pages look the same', () => {
  expect(isSame('separation-missing', plate, plate)).toBe(true);
  expect(isSame('separation-missing', plate, { ...plate, ink: 'magenta' }, 'one')).toBe(false);
  expect(isSame('separation-empty', plate, { ...plate, side: 'back' }, 'one')).toBe(false);
  expect(isSame('inks-exchanged', { ...plate, otherInk: 'yellow' }, { ...plate, otherInk: 'black' }, 'one')).toBe(
    false,
  );
});

test('what was agreed of so much is not agreed of more, as far as it is measured', () => {
  const off = (shiftXmm: number) => ({ ...plate, shiftXmm, shiftYmm: 0 });
  expect(isSame('separation-out-of-register', off(0.12), off(0.14))).toBe(true);
  expect(isSame('separation-out-of-register', off(0.12), off(2), 'one')).toBe(false);
  const back = (shiftXmm: number) => ({ sheet: 1, shiftXmm, shiftYmm: 0 });
  expect(isSame('back-out-of-register', back(0.6), back(1.5), 'one')).toBe(false);
  expect(
    isSame('screen-coarse', { ...plate, rulingLpi: 85, limitLpi: 100 }, { ...plate, rulingLpi: 60, limitLpi: 100 }),
  ).toBe(false);
});

test('pages exchanged with others are another finding', () => {
  expect(isSame('pages-exchanged', { ...cell, otherPage: 12 }, { ...cell, otherPage: 12 })).toBe(true);
  expect(isSame('pages-exchanged', { ...cell, otherPage: 12 }, { ...cell, otherPage: 11 }, 'one')).toBe(false);
});

test('what a plate shows instead has to be the same, too', () => {
  const strange = { ...plate, belongsToSheet: null };
  const known: KnownFinding = {
    ...{ id: 'known', identity: 'known', pages: new Set(['one']) },
    first: appearance('separation-of-another-sheet', strange, 'one'),
  };
  const now = appearance('separation-of-another-sheet', strange, 'other');
  expect(sameFindings([now], [known], () => false).size).toBe(0);
  expect(sameFindings([now], [known], () => true).size).toBe(1);
});
