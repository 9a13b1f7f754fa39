import { homedir } from 'node:os';
import { join } from 'node:path';

/**
 * Where this program remembers things for a person: heads that were seen, uploads that were begun.
 *
 * @source freedesktop.org Base Directory Specification 0.8 for XDG_STATE_HOME; elsewhere common practice, no source
 */
export function stateFolder(env: Readonly<Record<string, string | undefined>>): string {
  const state = env.XDG_STATE_HOME ?? '';
  if (state !== '') return join(state, 'witnessleaf');
  const local = env.LOCALAPPDATA ?? '';
  if (local !== '') return join(local, 'Witness Leaf');
  return join(env.HOME ?? homedir(), '.local', 'state', 'witnessleaf');
}
