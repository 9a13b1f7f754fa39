import { Refusal } from '../../model/index.ts';

const REASONS: Readonly<Record<string, string>> = {
  ENOSPC: 'the disk is full',
  EDQUOT: 'the share of the disk is used up',
  EROFS: 'the disk is write-protected',
  EACCES: 'not allowed to write there',
  EPERM: 'not allowed to write there',
  EIO: 'the disk fails',
  EMFILE: 'too many open files',
  ENFILE: 'too many open files',
};

/** What a disk threw, as a refusal where it is one that an operator can mend; anything else as it came. */
export function asDiskRefusal(error: unknown, what: string): unknown {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  const reason = REASONS[code];
  return reason === undefined ? error : new Refusal('unavailable', { what, reason }, error);
}
