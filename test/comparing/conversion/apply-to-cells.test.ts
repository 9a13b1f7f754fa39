import { describe, expect, it } from 'vitest';
import { applyToCells } from '../../../src/comparing/conversion/apply-to-cells.ts';
import type { ColourMap } from '../../../src/comparing/conversion/colour-map.ts';
import { applyColourMap, UNCHANGED } from '../../../src/comparing/conversion/colour-map.ts';
import { putCells } from '../../../src/comparing/kernels/cells.ts';

/** What a strong tone compression does: black to L* 15, white to 93, colours paler. */
const COMPRESSING = UNCHANGED.map((value, index) => (index === 0 ? 54 : index === 1 ? 39 : value * 0.8));

/** Colours all over the room in odd steps, so that none lies in the middle of a bin. */
const COLOURS = Float32Array.from({ length: 3 * 2000 }, (_, at) => {
  const colour = Math.floor(at / 3);
  return at % 3 === 0 ? (colour * 37.7) % 100 : ((colour * (at % 3 === 1 ? 23.3 : 51.1)) % 150) - 75;
});

function mapped(map: ColourMap, lab: Float32Array, speaks = new Uint8Array(lab.length / 3).fill(1)): Float32Array {
  const cells = putCells({ width: speaks.length, dummy: lab, revision: lab, speaks });
  applyToCells(map, cells);
  return cells.mapped.slice();
}

describe('a colour map applied to many cells', () => {
  it('moves each colour as the map itself does, to half a unit', () => {
    const out = mapped(COMPRESSING, COLOURS);
    const exact = new Float32Array(COLOURS.length);
    for (let at = 0; at < exact.length; at += 3) {
      applyColourMap(COMPRESSING, COLOURS[at]!, COLOURS[at + 1]!, COLOURS[at + 2]!, exact, at);
    }
    const furthest = out.reduce((most, value, at) => Math.max(most, Math.abs(value - exact[at]!)), 0);
    expect(furthest).toBeLessThan(0.5);
    expect(furthest).toBeGreaterThan(0);
  });

  it('forgets one map when the next is applied', () => {
    mapped(COMPRESSING, COLOURS);
    const second = mapped(UNCHANGED, COLOURS);
    const furthest = second.reduce((most, value, at) => Math.max(most, Math.abs(value - COLOURS[at]!)), 0);
    expect(furthest).toBeLessThan(0.001);
  });

  it('leaves cells alone that do not speak', () => {
    const lab = Float32Array.of(50, 0, 0, 60, 10, 10);
    const cells = putCells({ width: 2, dummy: lab, revision: lab, speaks: Uint8Array.of(0, 1) });
    cells.mapped.fill(7);
    applyToCells(UNCHANGED, cells);
    expect([...cells.mapped].map(Math.round)).toEqual([7, 7, 7, 60, 10, 10]);
  });
});
