/** White space of PDF syntax. @source ISO 32000-2 7.2.3 table 1 */
export const IS_WHITE = table([0x00, 0x09, 0x0a, 0x0c, 0x0d, 0x20]);

/** White space and delimiters: what ends a name, a number or a keyword. @source ISO 32000-2 7.2.3 table 2 */
export const ENDS_WORD = table([
  ...[0x00, 0x09, 0x0a, 0x0c, 0x0d, 0x20],
  ...Array.from('()<>[]{}/%', (character) => character.charCodeAt(0)),
]);

function table(codes: readonly number[]): Uint8Array {
  const flags = new Uint8Array(256);
  for (const code of codes) flags[code] = 1;
  return flags;
}
