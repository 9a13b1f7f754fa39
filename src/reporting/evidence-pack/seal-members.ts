import { sealText } from '../../evidence/index.ts';
import { signNote, type NoteSigner } from '../../ledger/index.ts';
import type { Instant } from '../../model/index.ts';
import { listMembers, memberOf, type Member } from './member.ts';

/**
 * The list of members and the archive's signature over it. Ed25519 signs the same text with the same bytes, so that the
 * same pack can be made again.
 *
 * @source RFC 8032 5.1.6
 */
export async function sealMembers(
  members: readonly Member[],
  signer: NoteSigner,
  at: Instant,
): Promise<readonly Member[]> {
  const list = memberOf('MEMBERS', listMembers(members));
  const text = sealText(signer.verifier.name, at, list.sha256);
  const { signatures } = await signNote(text, signer);
  const signature = signatures[0]?.signature ?? new Uint8Array();
  return [list, memberOf('MEMBERS.seal', text), memberOf('MEMBERS.seal.sig', signature)];
}
