/**
 * Numbers from 0 to 1 that look random and are the same for the same seed: quicker than asking fast-check for each.
 *
 * @param seed  1 to 2^31 - 2
 * @source Park & Miller, "Random number generators: good ones are hard to find", CACM 31 (1988): 16807 x mod 2^31 - 1
 */
export function randomFrom(seed: number): () => number {
  let state = seed;
  return () => (state = (state * 16807) % 2147483647) / 2147483647;
}
