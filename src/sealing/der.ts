import { joinBytes } from '../model/index.ts';
import { orderBytes } from './octets.ts';

/** Tags of the types that signatures and key files are made of. @source ITU-T X.680 (2021) 8.6, X.690 (2021) 8.1.2 */
export const TAG = {
  boolean: 0x01,
  integer: 0x02,
  bitString: 0x03,
  octetString: 0x04,
  null: 0x05,
  objectIdentifier: 0x06,
  utf8String: 0x0c,
  utcTime: 0x17,
  generalizedTime: 0x18,
  bmpString: 0x1e,
  sequence: 0x30,
  set: 0x31,
} as const;

/** A context tag of a constructed value: `[0]` is 0xa0. */
export function contextTag(number: number): number {
  return 0xa0 | number;
}

/** A value in DER: tag, length in its shortest form, content. @source ITU-T X.690 (2021) 8.1, 10.1 */
export function der(tag: number, ...content: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const body = joinBytes(content);
  const length: number[] = [];
  for (let rest = body.length; rest > 0; rest = Math.floor(rest / 256)) length.unshift(rest % 256);
  const head = body.length < 0x80 ? [body.length] : [0x80 | length.length, ...length];
  return joinBytes([Uint8Array.of(tag, ...head), body]);
}

/** A sequence of values that are already in DER. */
export function derSequence(...members: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  return der(TAG.sequence, ...members);
}

/** A set: its members in ascending order of their bytes. @source ITU-T X.690 (2021) 11.6 */
export function derSet(...members: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  return der(TAG.set, ...members.toSorted(orderBytes));
}

/** A whole number from 0, of at most 53 bits. @source ITU-T X.690 (2021) 8.3 */
export function derNumber(value: number): Uint8Array<ArrayBuffer> {
  const bytes: number[] = [];
  for (let rest = value; rest > 0; rest = Math.floor(rest / 256)) bytes.unshift(rest % 256);
  return derUnsigned(Uint8Array.from(bytes));
}

/** A whole number from 0, given by its bytes, the highest first. @source ITU-T X.690 (2021) 8.3 */
export function derUnsigned(bytes: Uint8Array): Uint8Array<ArrayBuffer> {
  const first = bytes.findIndex((byte) => byte !== 0);
  const digits = first < 0 ? Uint8Array.of(0) : bytes.subarray(first);
  return der(TAG.integer, digits[0]! < 0x80 ? digits : joinBytes([Uint8Array.of(0), digits]));
}

/** An object identifier, `1.2.840.113549.1.7.2`. @source ITU-T X.690 (2021) 8.19 */
export function derOid(dotted: string): Uint8Array<ArrayBuffer> {
  const [first, second, ...rest] = dotted.split('.').map(Number);
  const arcs = [first! * 40 + second!, ...rest];
  return der(TAG.objectIdentifier, Uint8Array.from(arcs.flatMap(sevenBitGroups)));
}

function sevenBitGroups(arc: number): number[] {
  const groups = [arc % 128];
  for (let rest = Math.floor(arc / 128); rest > 0; rest = Math.floor(rest / 128)) groups.unshift(0x80 | (rest % 128));
  return groups;
}

/** UTCTime up to 2049, GeneralizedTime from 2050 on. @source RFC 5652 11.3, RFC 5280 4.1.2.5 */
export function derTime(date: Date): Uint8Array<ArrayBuffer> {
  const digits = date.toISOString().slice(0, 19).replace(/[-:T]/g, '');
  const year = date.getUTCFullYear();
  const short = year >= 1950 && year < 2050;
  const text = new TextEncoder().encode(`${short ? digits.slice(2) : digits}Z`);
  return der(short ? TAG.utcTime : TAG.generalizedTime, text);
}
