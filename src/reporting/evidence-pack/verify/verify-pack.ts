import { stat } from 'node:fs/promises';
import { checkPack, type KnownElsewhere, type PackAnswer, type PACK_LIMITS } from '../../../evidence/index.ts';
import { Refusal } from '../../../model/index.ts';
import { checkAccount } from './check-account.ts';
import { checkPages } from './check-pages.ts';
import { openFolder } from './open-folder.ts';
import { openZip } from './open-zip.ts';

/**
 * Checks an evidence pack, a ZIP or the folder that it was unpacked into.
 *
 * @throws {Refusal} not-found: there is nothing
 * @throws {Refusal} unreadable, malformed, too-large: it is dangerous to open, or no pack at all
 */
export async function verifyPack(
  path: string,
  known: KnownElsewhere = {},
  limits?: typeof PACK_LIMITS,
): Promise<PackAnswer> {
  const found = await stat(path).catch(() => null);
  if (found === null) throw new Refusal('not-found', { what: path });
  const pack = await (found.isDirectory() ? openFolder(path, limits) : openZip(path, limits));
  try {
    return await checkPack(pack, known, { pages: (findings) => checkPages(findings, pack), account: checkAccount });
  } finally {
    pack.close();
  }
}
