import fc from 'fast-check';
import { expect, test } from 'vitest';
import { uprightPart } from '../../src/plates/grey.ts';

const SHEET = { width: 7, height: 5 };
const sheet = { ...SHEET, pxPerMm: 2, data: Uint8Array.from({ length: 35 }, (_, at) => at + 1) };

/** What the sheet has at a place; paper beside it. */
function onSheet(x: number, y: number): number {
  return x < 0 || y < 0 || x >= SHEET.width || y >= SHEET.height ? 255 : y * SHEET.width + x + 1;
}

test('a part of a sheet is read as the page stands, and what lies beside the sheet is paper', () => {
  const part = fc.record({
    left: fc.integer({ min: -9, max: 9 }),
    top: fc.integer({ min: -9, max: 9 }),
    width: fc.integer({ min: 1, max: 12 }),
    height: fc.integer({ min: 1, max: 12 }),
  });
  fc.assert(
    fc.property(part, fc.constantFrom(0 as const, 90 as const, 180 as const, 270 as const), (of, turnDeg) => {
      const seen = uprightPart(sheet, of, turnDeg);
      const lying = turnDeg % 180 === 90;
      expect([seen.width, seen.height]).toEqual(lying ? [of.height, of.width] : [of.width, of.height]);
      // Turned onto the sheet again, clockwise: where a point of the page, from its own top left, comes to lie.
      const { width, height } = of;
      const back = (x: number, y: number): number =>
        ({
          0: onSheet(of.left + x, of.top + y),
          90: onSheet(of.left + width - 1 - y, of.top + x),
          180: onSheet(of.left + width - 1 - x, of.top + height - 1 - y),
          270: onSheet(of.left + y, of.top + height - 1 - x),
        })[turnDeg];
      const expected = Array.from(seen.data, (_, at) => back(at % seen.width, Math.floor(at / seen.width)));
      expect([...seen.data]).toEqual(expected);
    }),
  );
});
