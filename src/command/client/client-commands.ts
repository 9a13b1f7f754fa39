import type { ClientCommand } from './client-command.ts';
import { evidence } from './evidence.ts';
import { findings } from './findings.ts';
import { keyConfirm } from './key-confirm.ts';
import { keyIntroduce } from './key-introduce.ts';
import { keyList } from './key-list.ts';
import { keyNew } from './key-new.ts';
import { keyRevoke } from './key-revoke.ts';
import { keyShow } from './key-show.ts';
import { printCopy, signedCopy } from './pull-copy.ts';
import { send } from './send.ts';
import { signFileCommands } from './sign-file.ts';
import { signRuling } from './sign-ruling.ts';
import { titles } from './titles.ts';
import { watch } from './watch.ts';

/** The commands for keys and for an archive that is reached over the network, as the help lists them. */
export const CLIENT_COMMANDS: readonly ClientCommand[] = [
  keyNew,
  keyShow,
  keyIntroduce,
  keyConfirm,
  keyList,
  keyRevoke,
  titles,
  send,
  watch,
  findings,
  ...signFileCommands,
  signRuling,
  printCopy,
  signedCopy,
  evidence,
];
