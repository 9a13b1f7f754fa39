/**
 * Whole blocks of pixels between the centres of two neighbouring tones, or between an edge of the plate and the centre next to
 * it: those whose own centres lie there. The last block may reach beyond the plate.
 */
export interface ToneSpan {
  readonly first: number;
  readonly end: number;
  /** The centres on both sides, in half pixels; beyond an edge where one would be. */
  readonly from: number;
  readonly to: number;
}

/** How the pixels along one side of a plate are shared among tones. */
export interface ToneSpans {
  /** Pixels of a block; all of them weigh as its middle does. */
  readonly block: number;
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
 * `(index + 1/2) pixels / tones`, rounded to half a pixel, so that nothing drifts across a plate. Pixels are taken in blocks of
 * half a tone, which leaves a tenth to a third less of a screen than single ones do; without, a retouch was seen that was none.
 *
 * The pixels of a block whose middle is at c weigh `to - c` for the tone before it and `c - from` for the one behind it, in
 * half pixels.
 *
 * @source common practice, no source: linear interpolation, the other way round; in blocks as libvips has it
 */
export function toneSpans(pixels: number, tones: number): ToneSpans {
  const centre = (index: number): number => Math.round(((2 * index + 1) * pixels) / tones);
  const block = Math.max(1, Math.floor(pixels / tones / 2));
  const sums = new Float64Array(tones);
  const spans: ToneSpan[] = [];
  let most = 0;
  for (let index = 0; index <= tones; index++) {
    const [from, to] = [centre(index - 1), centre(index)];
    const first = spans.at(-1)?.end ?? 0;
    let [end, before, behind] = [first, 0, 0];
    for (; end < pixels && (index === tones || middleOf(end, block) < to); end += block) {
      const held = Math.min(block, pixels - end);
      before += held * (to - middleOf(end, block));
      behind += held * (middleOf(end, block) - from);
    }
    if (index > 0) sums[index - 1]! += before;
    if (index < tones) sums[index]! += behind;
    most = Math.max(most, before, behind);
    spans.push({ first, end, from, to });
  }
  return { block, spans, sums, most };
}

/** Of the block that begins at a pixel, in half pixels. */
export function middleOf(pixel: number, block: number): number {
  return 2 * pixel + block;
}
