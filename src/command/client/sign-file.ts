import { textOf, type ClientCommand, type ClientOption } from './client-command.ts';
import { FILE_OPTION, findFile } from './find-file.ts';
import { findPart, PART_OPTION, TITLE_OPTION } from './find-part.ts';
import { signAndSend, SIGNING_OPTIONS, type AnyWish } from './sign-and-send.ts';
import type { FileToSend } from './upload-file.ts';

const OPTIONS = { title: TITLE_OPTION, part: PART_OPTION, file: FILE_OPTION, ...SIGNING_OPTIONS };
const REASON: ClientOption = { takes: 'TEXT', says: 'why, in your words; it is signed with the rest', needed: true };

interface About {
  readonly part: { readonly id: string; readonly name: string };
  /** What statements name the file by. */
  readonly sha256: string;
  readonly reason: string;
}
type Said = {
  readonly [K in AnyWish['kind']]: Pick<Extract<AnyWish, { kind: K }>, 'kind' | 'subject'>;
}[AnyWish['kind']];

/** The four statements about one file: what it must be, and what the statement has to say. */
const ABOUT_FILE: readonly {
  readonly words: string;
  readonly kind: FileToSend['kind'];
  readonly says: string;
  readonly hasReason: boolean;
  readonly meant: (about: About) => Said;
}[] = [
  {
    words: 'sign-off',
    kind: 'dummy',
    says: 'signs a dummy as the contract; in force when both sides have',
    hasReason: false,
    meant: ({ part, sha256 }) => ({ kind: 'sign-off', subject: { part, dummy: { sha256 } } }),
  },
  {
    words: 'withdrawal',
    kind: 'dummy',
    says: 'takes back a dummy that is not in force yet',
    hasReason: true,
    meant: ({ part, sha256, reason }) => ({ kind: 'withdrawal', subject: { part, dummy: sha256, reason } }),
  },
  {
    words: 'replacement',
    kind: 'dummy',
    says: 'agrees that the dummy in force gives way to a new one; both sides have to',
    hasReason: true,
    meant: ({ part, sha256, reason }) => ({ kind: 'replacement', subject: { part, dummy: { sha256 }, reason } }),
  },
  {
    words: 'release',
    kind: 'plates-input',
    says: 'releases a plates input to be made into plates; refused while findings are open',
    hasReason: false,
    meant: ({ part, sha256 }) => ({ kind: 'release', subject: { part, platesInput: { sha256 } } }),
  },
];

/** `sign-off`, `withdrawal`, `replacement` and `release`: what is signed about one file. */
export const signFileCommands: readonly ClientCommand[] = ABOUT_FILE.map(({ words, kind, says, hasReason, meant }) => ({
  words,
  operands: [],
  says,
  options: hasReason ? { ...OPTIONS, reason: REASON } : OPTIONS,
  run: (given, tools) =>
    signAndSend(given, tools, async (client): Promise<AnyWish> => {
      const { title, part } = await findPart(client, given);
      const file = await findFile(client, { given, partId: part.id, kind });
      const reason = hasReason ? textOf(given, 'reason') : '';
      const about = { part: { id: part.id, name: part.name }, sha256: file.signedAs ?? '', reason: reason.trim() };
      return { title, order: { file: file.id, ...(hasReason ? { reason } : {}) }, ...meant(about) };
    }),
}));
