import { ContentInfo, SignedData, TimeStampResp, TSTInfo } from 'pkijs';
import { Refusal } from '../model/index.ts';
import { ownBytes } from './octets.ts';

/** What a time-stamp token says, and the signature over it; nothing of it is proved. */
export interface ReadToken {
  readonly signed: SignedData;
  /** The bytes of what it says, which the signature covers. */
  readonly infoBytes: Uint8Array<ArrayBuffer>;
  readonly info: TSTInfo;
}

const NAME = 'time-stamp';
/** The type of what a token says. @source RFC 3161 2.4.2 */
export const TST_INFO = '1.2.840.113549.1.9.16.1.4';

/**
 * The token out of an authority's answer, as `application/timestamp-reply` brings it: what is kept and goes into packs.
 *
 * @throws {Refusal} unavailable: the authority answered that it gives none, and why
 * @throws {Refusal} unreadable: not such an answer
 * @source RFC 3161 2.4.2: status 0 granted, 1 granted with changes
 */
export function tokenOfResponse(response: Uint8Array): Uint8Array<ArrayBuffer> {
  const answer = parsed(() => TimeStampResp.fromBER(ownBytes(response).buffer), 'it is not an answer of an authority');
  const status = Number(answer.status.status);
  const { statusStrings } = answer.status;
  if (status > 1 || answer.timeStampToken === undefined) {
    const words = statusStrings?.map((text) => text.valueBlock.value).join(' ') ?? '';
    const reason = `the authority gave none: ${STATUS[status] ?? `status ${status}`}${words === '' ? '' : ` (${words})`}`;
    throw new Refusal('unavailable', { what: NAME, reason });
  }
  return new Uint8Array(answer.timeStampToken.toSchema().toBER());
}

const STATUS = ['granted', 'granted with changes', 'rejected', 'waiting', 'revocation soon', 'revoked'];

/** Takes a token apart. @throws {Refusal} unreadable: it is none @source RFC 3161 2.4.2 */
export function readToken(token: Uint8Array): ReadToken {
  return parsed(() => {
    const signed = new SignedData({ schema: ContentInfo.fromBER(ownBytes(token).buffer).content as unknown });
    const { eContent, eContentType } = signed.encapContentInfo;
    if (eContentType !== TST_INFO || eContent === undefined) throw new TypeError('another content');
    const infoBytes = new Uint8Array(eContent.getValue());
    return { signed, infoBytes, info: TSTInfo.fromBER(infoBytes.buffer) };
  }, 'it is not a time-stamp token');
}

/** The library throws errors of its own for whatever it cannot read. */
function parsed<T>(read: () => T, reason: string): T {
  try {
    return read();
  } catch (cause) {
    throw new Refusal('unreadable', { file: NAME, reason }, cause);
  }
}
