import { contextTag, TAG } from './der.ts';
import { memberAt, membersOf, oidOf, readDer, requireTag } from './read-der.ts';
import { OID, type SealAlgorithm } from './seal-form.ts';

/** The parts of a seal, taken as they lie there; nothing of them is proved. */
export interface ReadSeal {
  readonly certificate: Uint8Array;
  readonly attributes: readonly Uint8Array[];
  readonly algorithm: SealAlgorithm | 'another';
  readonly signature: Uint8Array;
}

const NAME = 'signature';

/**
 * Takes a detached signature apart.
 *
 * @throws {Refusal} unreadable: it is not DER, or a part is not where it belongs
 * @source RFC 5652 3, 5.1, 5.3
 */
export function readSeal(bytes: Uint8Array): ReadSeal {
  const signedData = memberAt(readDer(bytes, NAME), [1, 0], TAG.sequence, NAME);
  const certificates = memberAt(signedData, [3], contextTag(0), NAME);
  const signerInfo = memberAt(signedData, [4, 0], TAG.sequence, NAME);
  const [, , , attributes, algorithm, signature] = membersOf(signerInfo, NAME);
  const oid = oidOf(membersOf(requireTag(algorithm, TAG.sequence, NAME), NAME)[0], NAME);
  return {
    certificate: memberAt(certificates, [0], TAG.sequence, NAME).bytes,
    attributes: membersOf(requireTag(attributes, contextTag(0), NAME), NAME).map(({ bytes: own }) => own),
    algorithm:
      oid === OID.sha256WithRsa ? 'sha256WithRsa' : oid === OID.ecdsaWithSha256 ? 'ecdsaWithSha256' : 'another',
    signature: requireTag(signature, TAG.octetString, NAME).content,
  };
}

/** The one value of the attribute of this type; nothing where it is missing, there twice, or has several values. */
export function attributeValue(attributes: readonly Uint8Array[], type: string): Uint8Array | undefined {
  const ofType = attributes
    .map((one) => membersOf(readDer(one, NAME), NAME))
    .filter(([oid]) => oidOf(oid, NAME) === type);
  const values = ofType[0]?.[1] === undefined ? [] : membersOf(ofType[0][1], NAME);
  return ofType.length === 1 && values.length === 1 ? values[0]!.bytes : undefined;
}
