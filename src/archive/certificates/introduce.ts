import { Refusal } from '../../model/index.ts';
import { fingerprintOf, formatInstant, requireSoundCertificate, sha256Hex } from '../../sealing/index.ts';
import type { Actor } from '../actor.ts';
import type { KeptCertificate } from '../catalogue/index.ts';
import { recorded } from '../record/recorded.ts';
import { recordFailure } from '../record/record-failure.ts';
import type { Archive } from '../open-archive.ts';
import { requirePerson } from '../standing.ts';

/**
 * Introduces a certificate of one's own; once more, it changes nothing. Nothing that needs a confirmed key can be signed
 * with it before the other party of a title has confirmed it.
 *
 * @param der  for the name of the person and of their party as the archive has them
 * @throws {Refusal} not-allowed: the right to sign is missing
 * @throws {Refusal} unreadable: no certificate
 * @throws {Refusal} unproven: with each check that does not hold; it is recorded
 * @throws {Refusal} out-of-step: somebody else has introduced it
 */
export async function introduceCertificate(
  archive: Pick<Archive, 'catalogue' | 'identity'>,
  actor: Actor,
  der: Uint8Array,
  at: number,
): Promise<KeptCertificate> {
  const { catalogue } = archive;
  const { name: commonName, partyId, id: personId } = await requirePerson(catalogue, actor, 'sign');
  const organisation = (await catalogue.parties.get(partyId))?.name ?? '';
  const [fingerprint, said] = [await sha256Hex(der), await fingerprintOf(der)];
  const subject = { what: 'certificate', id: said, sha256: fingerprint };
  try {
    await requireSoundCertificate(der, { at: formatInstant(new Date(at)), person: { commonName, organisation } });
  } catch (error) {
    await recordFailure(archive, { titleId: null, by: actor, subjects: [subject] }, error, at);
    throw error;
  }
  const fresh = { fingerprint, partyId, personId, der, introducedMs: at, confirmations: [], revocation: null };
  return recorded(archive, at, async (tables, log) => {
    await requirePerson(tables, actor, 'sign');
    const known = await tables.certificates.get(fingerprint);
    if (known?.personId === personId) return known;
    if (known !== null) {
      throw new Refusal('out-of-step', { what: 'certificate', named: said, current: 'introduced by somebody else' });
    }
    await tables.certificates.introduce({ fingerprint, partyId, personId, der, at });
    await log({ kind: 'key-introduced', titleId: null, by: actor, subjects: [subject] });
    return fresh;
  });
}
