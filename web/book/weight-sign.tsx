import type { Weight } from '../call/answers.ts';

/** The shape that stands for a weight beside its word, as in notices: a square, a triangle, a disc. */
const SHAPES: Readonly<Record<Weight, string>> = {
  stop: 'M3 3h10v10H3z',
  look: 'M8 2l6 11H2z',
  note: 'M3 8a5 5 0 1 0 10 0a5 5 0 1 0-10 0z',
};

/** A finding's weight as a shape; the word stands beside it. */
export function WeightSign({ weight }: { readonly weight: Weight }) {
  return (
    <svg className="weight-sign" viewBox="0 0 16 16" width="12" height="12" aria-hidden="true">
      <path d={SHAPES[weight]} />
    </svg>
  );
}
