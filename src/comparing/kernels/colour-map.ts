import { kernelOf, layOut } from '../../model/index.ts';
import { COLOUR_MAP } from './colour-map-code.ts';

/** What `colour-map.as` exports; places in its memory and counts. */
interface Exports {
  readonly memory: WebAssembly.Memory;
  mapColours(this: void, map: number, lab: number, count: number, terms: number, out: number): void;
  sumEquations(
    this: void,
    lab: number,
    became: number,
    weights: number,
    count: number,
    terms: number,
    normal: number,
    right: number,
  ): number;
}

const kernels = kernelOf<Exports>(COLOUR_MAP);

const TERMS = 20;
/** Terms of two colours, and of one. */
const TERMS_BYTES = TERMS * 24;

/**
 * What a map makes of many colours.
 *
 * @param map  81 numbers, see `ColourMap`
 * @param lab  three numbers a colour
 */
export function mapColours(map: Float64Array, lab: Float32Array): Float32Array {
  const { mapColours: apply, memory: own } = kernels();
  const { memory, at } = layOut(own, map.byteLength, lab.byteLength, TERMS_BYTES, lab.byteLength);
  const [mapAt = 0, labAt = 0, terms = 0, out = 0] = at;
  new Float64Array(memory.buffer, mapAt).set(map);
  new Float32Array(memory.buffer, labAt).set(lab);
  apply(mapAt, labAt, lab.length / 3, terms, out);
  return new Float32Array(memory.buffer, out, lab.length).slice();
}

/** Sums over places of weighted products. */
export interface MapEquations {
  /** Of two terms: twenty rows of twenty; what lies right of the diagonal has no meaning. */
  readonly normal: Float64Array;
  /** Of a term with L*, a*, b* of what the colour became: a row of twenty each. */
  readonly right: readonly [l: Float64Array, a: Float64Array, b: Float64Array];
  /** Of the weights alone. */
  readonly mass: number;
}

/**
 * Adds up what a least-squares fit of a map's polynomials asks for.
 *
 * @param lab     three numbers a colour
 * @param became  as long
 * @param weights  one number a colour; 0 leaves it out
 */
export function sumEquations(lab: Float32Array, became: Float32Array, weights: Float32Array): MapEquations {
  const { sumEquations: sum, memory: own } = kernels();
  const [square, row] = [TERMS * TERMS, TERMS];
  const { memory, at } = layOut(
    own,
    ...[lab.byteLength, became.byteLength, weights.byteLength, TERMS_BYTES, square * 8, 3 * row * 8],
  );
  const [labAt = 0, becameAt = 0, weightsAt = 0, terms = 0, normalAt = 0, rightAt = 0] = at;
  const { buffer } = memory;
  const normal = new Float64Array(buffer, normalAt, square).fill(0);
  const right = new Float64Array(buffer, rightAt, 3 * row).fill(0);
  new Float32Array(buffer, labAt).set(lab);
  new Float32Array(buffer, becameAt).set(became);
  new Float32Array(buffer, weightsAt).set(weights);
  const mass = sum(labAt, becameAt, weightsAt, weights.length, terms, normalAt, rightAt);
  return {
    normal: normal.slice(),
    right: [right.slice(0, row), right.slice(row, 2 * row), right.slice(2 * row)],
    mass,
  };
}
