/**
 * The sum of numbers, first to last. A loop where all are at home, not a callback where each is asked: the engine throws the
 * compiled code of a callback away with it, and compiles it anew for the next page.
 */
export function sumOf(numbers: Float32Array | Uint32Array | Uint8Array): number {
  let sum = 0;
  for (let at = 0; at < numbers.length; at++) sum += numbers[at]!;
  return sum;
}
