import { expect, test } from 'vitest';
import type { Box, Finding, Report } from '../../../src/model/index.ts';
import { tellSpots } from '../../../src/plates/index.ts';

/** A page of 40 by 30 mm on which a spot colour prints a band of 10 mm at its foot. */
const spot = {
  ...{ page: 2, ink: 'Leuchtrot 4', columns: 40, rows: 30 },
  grid: Uint8Array.from({ length: 40 * 30 }, (_, at) => (at >= 40 * 20 ? 80 : 0)),
};

function saysOf(box: Box | null, revisionPage = 2): string {
  const finding = { id: 'f1', kind: 'artwork-changed', dummyPage: revisionPage, revisionPage, box, revisionBox: null };
  const report = {
    findings: [{ ...finding, says: 'Something is gone.' } as Finding & { id: string }],
  } as unknown as Report;
  return tellSpots(report, [spot]).findings[0]!.says;
}

test('what is missing where a spot colour prints is said to be printed with it', () => {
  expect(saysOf({ x: 5, y: 21, width: 8, height: 6 })).toBe(
    'Something is gone. There Leuchtrot 4 prints, which is kept apart.',
  );
});

test('what is missing elsewhere, on another page, or of the whole page is not', () => {
  for (const says of [
    saysOf({ x: 5, y: 2, width: 8, height: 6 }),
    saysOf({ x: 5, y: 13, width: 8, height: 9 }),
    saysOf({ x: 5, y: 21, width: 8, height: 6 }, 3),
    saysOf({ x: 50, y: 60, width: 8, height: 6 }),
    saysOf(null),
  ]) {
    expect(says).toBe('Something is gone.');
  }
});
