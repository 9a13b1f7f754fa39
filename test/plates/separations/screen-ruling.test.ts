import { describe, expect, it } from 'vitest';
import { estimateScreen } from '../../../src/plates/index.ts';
import { screened } from './screened.ts';

describe('the ruling of a screen', () => {
  it.each([
    [2400, 175, 15, 0.5],
    [2400, 150, 75, 0.1],
    [2540, 200, 45, 0.85],
    [1200, 85, 0, 0.3],
    [1200, 60, 45, 0.04],
  ])('of a plate at %i ppi, %i lines an inch at %i degrees, tone %d, is told', (ppi, rulingLpi, angleDeg, tone) => {
    const screen = estimateScreen(screened({ side: 256, ppi, rulingLpi, angleDeg, tone }), ppi)!;
    expect(Math.abs(screen.rulingLpi / rulingLpi - 1)).toBeLessThan(0.02);
    const off = Math.abs(screen.angleDeg - angleDeg) % 90;
    expect(Math.min(off, 90 - off)).toBeLessThan(1);
  });

  it('is none where dots are scattered, where lines run one way, and on bare paper', () => {
    let seed = 1;
    const chance = (): number => (seed = (seed * 48271) % 2147483647) / 2147483647;
    const square = (of: (x: number, y: number) => number) => ({
      width: 256,
      height: 256,
      data: Uint8Array.from({ length: 65536 }, (_, at) => of(at % 256, at >> 8)),
    });
    const told = [square(() => (chance() < 0.4 ? 255 : 0)), square((x) => (x % 12 < 5 ? 255 : 0)), square(() => 0)];
    expect(told.map((one) => estimateScreen(one, 1200))).toEqual([null, null, null]);
  });
});
