import { applyCurve, putSamples } from '../../../src/comparing/kernels/samples.ts';
import type { Samples } from '../../../src/comparing/kernels/samples.ts';
import type { ToneCurve } from '../../../src/comparing/registration/tone-curve.ts';
import { fitToneCurve } from '../../../src/comparing/registration/tone-curve.ts';

/** Samples of no place. */
function samplesOf(level: Float32Array): Samples {
  const nowhere = new Float32Array(level.length);
  const plane = { left: 0, top: 0, width: 1, height: 1, data: new Float32Array(1) };
  return putSamples({ x: nowhere, y: nowhere, level }, plane);
}

/** The curve that carries levels to targets, weighted. */
export function curveBetween(levels: Float32Array, targets: Float32Array, weights: Float32Array): ToneCurve {
  const samples = samplesOf(levels);
  samples.seen.set(targets);
  samples.weights.set(weights);
  return fitToneCurve(samples);
}

/** What a curve makes of levels. */
export function alongCurve(curve: ToneCurve, levels: Float32Array): Float32Array {
  const samples = samplesOf(levels);
  applyCurve(samples, curve);
  return samples.fitted.slice();
}

/** What a curve makes of one level. */
export function toneOf(curve: ToneCurve, level: number): number {
  return alongCurve(curve, Float32Array.of(level))[0]!;
}
