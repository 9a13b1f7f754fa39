/** Pixels between the centres of two neighbouring tones, or between an edge of the plate and the centre next to it. */
export interface ToneSpan {
  readonly first: number;
  readonly end: number;
  /** The centres on both sides, in half pixels; beyond an edge where one would be. */
  readonly from: number;
  readonly to: number;
}

/** How the pixels along one side of a plate are shared among tones. */
export interface ToneSpans {
  /** One more than there are tones. */
  readonly spans: readonly ToneSpan[];
  /** The sum of the weights of each tone. */
  readonly sums: Float64Array;
  /** The largest sum of weights of a span to one side. */
  readonly most: number;
}

/**
 * Shares pixels among tones: each between the two whose centres it lies between, by nearness, so that a tone is the mean
 * under a triangle that reaches to its neighbours. At an edge only what is there is weighed. Centres stand at
 * `(index + 1/2) pixels / tones`, rounded to half a pixel, so that nothing drifts across a plate.
 *
 * A pixel p weighs `to - (2 p + 1)` for the tone before it and `(2 p + 1) - from` for the one behind it, in half pixels.
 *
 * @source common practice, no source: linear interpolation, the other way round
 */
export function toneSpans(pixels: number, tones: number): ToneSpans {
  const centre = (index: number): number => Math.round(((2 * index + 1) * pixels) / tones);
  const sums = new Float64Array(tones);
  const spans: ToneSpan[] = [];
  let most = 0;
  for (let index = 0; index <= tones; index++) {
    const [from, to] = [centre(index - 1), centre(index)];
    const first = index === 0 ? 0 : Math.floor(from / 2);
    const end = index === tones ? pixels : Math.floor(to / 2);
    let [before, behind] = [0, 0];
    for (let pixel = first; pixel < end; pixel++) {
      before += to - (2 * pixel + 1);
      behind += 2 * pixel + 1 - from;
    }
    if (index > 0) sums[index - 1]! += before;
    if (index < tones) sums[index]! += behind;
    most = Math.max(most, before, behind);
    spans.push({ first, end, from, to });
  }
  return { spans, sums, most };
}
