import type { ColourMap } from '../comparing/index.ts';
import { conversionStep } from '../comparing/index.ts';
import type { PageSignature, Tolerances } from '../model/index.ts';
import type { KeptFacts } from './kept-facts.ts';

/**
 * Two conversions that differ by less on every colour of the book say the same of it (CIELAB): a tenth of what an eye tells
 * apart, and a twenty-fourth of the smallest difference that is told of colours (`castDeltaE`, `retouchDeltaE`). Common
 * practice, no source.
 */
const SAME_CONVERSION_DELTA_E = 0.25;
/** Conversions of one dummy that are remembered. */
const MOST_REMEMBERED = 8;

/** Whether what was found clean by one conversion is so by the other, of a book with these pages. */
export function saySame(one: ColourMap, other: ColourMap, pages: readonly PageSignature[]): boolean {
  return conversionStep(one, other, pages) <= SAME_CONVERSION_DELTA_E;
}

/**
 * Conversions that were learned in earlier checks of the same dummy and say the same of every colour within
 * `SAME_CONVERSION_DELTA_E`, the eldest first. Two pages that changed move what is learned of a hundred and sixty by a hair,
 * and with it the terms of every comparison: a page that was found clean by one of these need not be compared again. The
 * fresh one is remembered for later checks; one that says the same as others never takes their place, and of others the newest goes first.
 *
 * @param fresh  learned from the pairs of this check
 * @param pages  of the dummy, that it was learned from
 */
export async function earlierConversions(
  kept: KeptFacts,
  { dummy, tolerances }: { readonly dummy: string; readonly tolerances: Tolerances },
  fresh: ColourMap,
  pages: readonly PageSignature[],
): Promise<readonly ColourMap[]> {
  const terms = [dummy, tolerances.analysisPpi];
  const known = (await kept.read<readonly ColourMap[]>('conversions', terms)) ?? [];
  const steps = known.map((one) => conversionStep(one, fresh, pages));
  if (!steps.includes(0)) {
    const otherwise = steps.findLastIndex((step) => step > SAME_CONVERSION_DELTA_E);
    const left = known.length < MOST_REMEMBERED ? known : known.filter((_, at) => at !== otherwise);
    if (left.length < MOST_REMEMBERED) await kept.write('conversions', terms, [...left, fresh]);
  }
  return known.filter((_, at) => steps[at]! > 0 && steps[at]! <= SAME_CONVERSION_DELTA_E);
}
