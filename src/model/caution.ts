/** Where a report's word ends: printed on every report, on the screen, on paper and in its JSON. */
export const CAUTIONS: readonly string[] = [
  'This report records what two files show. It is evidence, not legal advice.',
  'What a signature binds, and whom, is for the contract between the parties and for the law of the place.',
  'Pictures in this report, on a screen or from an office printer, are no colour proof.',
  'A match within the tolerances says that the pages show the same; it approves no colour.',
  'The contract proof and the pass on press decide about colour; nothing here replaces them.',
];
