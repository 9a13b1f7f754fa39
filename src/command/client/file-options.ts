import { Refusal } from '../../model/index.ts';
import type { ClientOption, Given } from './client-command.ts';
import { PART_OPTION, TITLE_OPTION } from './find-part.ts';
import { SERVER_OPTIONS } from './server-options.ts';
import type { FileToSend } from './upload-file.ts';

const KINDS = ['dummy', 'revision', 'plates-input'] as const;

/** What is said of a file that is sent, one by one or from a folder. */
export const FILE_OPTIONS: Readonly<Record<string, ClientOption>> = {
  title: TITLE_OPTION,
  part: PART_OPTION,
  kind: { takes: 'KIND', says: `${KINDS.join(', ')}; where nothing is said a revision, or of plates a plates input` },
  remark: { takes: 'TEXT', says: 'what the other side should know of it' },
  ...SERVER_OPTIONS,
};

/**
 * What a file is sent as.
 *
 * @param name  of the file, where it is known: plates can be nothing else
 * @param isFolded  whether it is said how it folds, which only plates do
 * @throws {Refusal} malformed: no such kind
 */
export function fileKindOf(
  given: Given,
  { name = '', isFolded = false }: { readonly name?: string; readonly isFolded?: boolean } = {},
): FileToSend['kind'] {
  const isOfPlates = isFolded || /\.(zip|tiff?)$/i.test(name);
  const named = given.text('kind') ?? (isOfPlates ? 'plates-input' : 'revision');
  const kind = KINDS.find((one) => one === named);
  if (kind !== undefined) return kind;
  throw new Refusal('malformed', { pointer: '--kind', expected: KINDS.join(', '), found: named });
}
