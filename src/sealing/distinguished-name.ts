import { RelativeDistinguishedNames } from 'pkijs';
import { Refusal } from '../model/index.ts';
import { der, derOid, derSequence, derSet, TAG } from './der.ts';
import { requireText } from './text.ts';

/** Who a certificate is for: a person and the organisation that the person signs for. */
export interface PersonName {
  readonly commonName: string;
  readonly organisation: string;
}

/** Characters that a name may have. @source RFC 5280 Appendix A.1: ub-common-name, ub-organization-name */
const LONGEST = 64;

const COMMON_NAME = '2.5.4.3';
const ORGANISATION = '2.5.4.10';

/**
 * A name as certificates hold it, in UTF-8 whatever its script.
 *
 * @throws {Refusal} malformed: a name is empty, longer than 64 characters, or has characters that cannot be seen
 * @source RFC 5280 4.1.2.4
 */
export function distinguishedName({ commonName, organisation }: PersonName): RelativeDistinguishedNames {
  const part = (type: string, text: string, pointer: string) => {
    const value = der(TAG.utf8String, new TextEncoder().encode(requireName(text, pointer)));
    return derSet(derSequence(derOid(type), value));
  };
  // Written here and only read by the library, which would put both parts into one set.
  const name = derSequence(
    part(ORGANISATION, organisation, '/organisation'),
    part(COMMON_NAME, commonName, '/commonName'),
  );
  return RelativeDistinguishedNames.fromBER(name.buffer);
}

/** The person that a certificate's name stands for; a part that is not there is empty. */
export function personOf(name: RelativeDistinguishedNames): PersonName {
  const part = (type: string) => {
    const value = name.typesAndValues.find((one) => one.type === type)?.value as
      { valueBlock: { value: unknown } } | undefined;
    return typeof value?.valueBlock.value === 'string' ? value.valueBlock.value : '';
  };
  return { commonName: part(COMMON_NAME), organisation: part(ORGANISATION) };
}

function requireName(text: string, pointer: string): string {
  const length = [...requireText(text, pointer)].length;
  if (length > LONGEST) {
    throw new Refusal('malformed', {
      pointer,
      expected: `at most ${LONGEST} characters`,
      found: `${length} characters`,
    });
  }
  return text;
}
