import type { LogSubject } from '../../model/index.ts';
import type { Actor } from '../actor.ts';
import { recorded, type Recording } from './recorded.ts';

/** Records that something was handed out which goes on its own way, a copy or a table; `remark` says in words what it was. */
export async function recordExport(
  archive: Recording,
  actor: Actor,
  given: { readonly titleId: string; readonly subjects: readonly LogSubject[]; readonly remark: string },
  at: number,
): Promise<void> {
  await recorded(archive, at, async (_tables, log) => {
    await log({ kind: 'export', by: actor, ...given });
  });
}
