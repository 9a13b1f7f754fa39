import { numbersFrom } from '../../../demo/book/library.ts';

/** A smooth random field over the plane: 0 to 1, about one swell each unit. */
export type Field = (x: number, y: number) => number;

const SIDE = 64;

/** Value noise on a lattice that repeats after 64 units. @source common practice, no source */
export function noiseField(seed: number): Field {
  const next = numbersFrom(seed * 7919 + 17);
  const lattice = Float32Array.from({ length: SIDE * SIDE }, next);
  return (x, y) => {
    const left = Math.floor(x);
    const top = Math.floor(y);
    const u = ease(x - left);
    const v = ease(y - top);
    const at = (dx: number, dy: number): number =>
      lattice[((((top + dy) % SIDE) + SIDE) % SIDE) * SIDE + ((((left + dx) % SIDE) + SIDE) % SIDE)]!;
    return (at(0, 0) * (1 - u) + at(1, 0) * u) * (1 - v) + (at(0, 1) * (1 - u) + at(1, 1) * u) * v;
  };
}

/** Octaves of a field added up, each twice as fine and half as strong; 0 to 1. */
export function fractal(field: Field, octaves: number): Field {
  return (x, y) => {
    let sum = 0;
    let weight = 0;
    for (let octave = 0, strength = 1, step = 1; octave < octaves; octave += 1, strength /= 2, step *= 2) {
      sum += strength * field(x * step + octave * 5.3, y * step + octave * 9.1);
      weight += strength;
    }
    return sum / weight;
  };
}

function ease(t: number): number {
  return t * t * (3 - 2 * t);
}
