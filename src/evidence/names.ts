/** The number of an entry or of a log's size in a member's name. */
export function inName(number: number): string {
  return `${number}`.padStart(6, '0');
}
