import type { Section } from './section.ts';

/** What a stranger may conclude from a pack of which every check holds. */
export const SHOWN: readonly string[] = [
  'Each statement was signed with the key of its certificate, and neither its words nor the files that it names by hash have changed since.',
  'Each entry stands at its place in the archive’s log, and the log has only grown between the moments that signers saw.',
  'Where a time-stamp covers an entry, the entry existed at the time that the authority names.',
];

/** What a stranger may not conclude from it. */
export const NOT_SHOWN: readonly string[] = [
  'That a key is a certain person’s: that rests on the fingerprints, which their owners must confirm.',
  'That a person was entitled to sign, or what a signature binds them to: that is for the contract between the parties and for the law of the place.',
  'That every entry of the title is here: one that was left out cannot be told from those of other titles. What the other party has, and the heads that both remember, would show it.',
  'That nothing else happened: the archive records what was sent to it and done in it, and cannot know more. Names and file sizes are told as the archive keeps them; the log itself fixes hashes, remarks and order.',
  'That an entry without a time-stamp was written when it says: until then its time is the archive’s own.',
  'That a colour is right: neither a screen nor these pictures are a colour proof, and the pass on press decides.',
];

/** The last section of an account. */
export function conclusionSection(): Section {
  const blocks = [
    {
      kind: 'text' as const,
      text: 'This account is evidence, not legal advice. With every check of the pack holding, it shows:',
    },
    { kind: 'list' as const, items: SHOWN },
    { kind: 'text' as const, text: 'It does not show:' },
    { kind: 'list' as const, items: NOT_SHOWN },
  ];
  return { heading: 'What this shows, and what it does not', blocks };
}
