// Words of no language with the letters that European books need.
const WORDS =
  'velan osté mirande kolm ser ylva trent água naïf brode løse æther mañe cœur ström fell parable dovre ište nový hladě silt amber tolk un se mar lo cand fjell estra ödla vinter morra pont grave ilm oure'.split(
    ' ',
  );

/** A sentence of nothing, with a capital and a full stop. */
export function inventSentence(next: () => number): string {
  const count = 5 + Math.floor(next() * 9);
  const words = Array.from({ length: count }, () => WORDS[Math.floor(next() * WORDS.length)]!);
  const comma = Math.floor(count / 2);
  const text = words.map((word, index) => (index === comma && count > 8 ? `${word},` : word)).join(' ');
  return `${text[0]!.toUpperCase()}${text.slice(1)}.`;
}

export function inventParagraph(next: () => number, sentences: number): string {
  return Array.from({ length: sentences }, () => inventSentence(next)).join(' ');
}

/** Two words, for a heading or a caption's first words. */
export function inventName(next: () => number): string {
  const word = (): string => WORDS[Math.floor(next() * WORDS.length)]!;
  const first = word();
  return `${first[0]!.toUpperCase()}${first.slice(1)} ${word()}`;
}
