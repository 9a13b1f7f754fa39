import { join } from 'node:path';
import { formatBytes } from '../../reporting/index.ts';
import type { ClientTools } from './client-command.ts';
import { stateFolder } from './state-folder.ts';
import type { Uploading } from './upload-file.ts';

const TELL_MS = 250;

/** How this program sends files: what has begun is remembered, and a person at a terminal sees how far it is. */
export function sendingFor(name: string, { desk, env, stop }: ClientTools): Uploading & { done(this: void): void } {
  let toldAt = -Infinity;
  return {
    stateFolder: join(stateFolder(env), 'uploads'),
    stop,
    onProgress: (sent, total) => {
      const isLast = sent === total;
      if (!desk.err.isTerminal || (desk.now() - toldAt < TELL_MS && !isLast)) return;
      toldAt = desk.now();
      desk.err.write(`\r\u001b[K${name}: ${formatBytes(sent)} of ${formatBytes(total)}`);
    },
    done: () => {
      if (toldAt > -Infinity) desk.err.write('\r\u001b[K');
    },
  };
}
