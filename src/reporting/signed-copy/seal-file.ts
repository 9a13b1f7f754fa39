import { createHash } from 'node:crypto';
import { PDFArray, PDFDict, PDFHexString, PDFName, PDFNumber, PDFRef, PDFString } from '@cantoo/pdf-lib';
import type { PDFContext } from '@cantoo/pdf-lib';
import { sealPdfHash } from '../../sealing/index.ts';
import type { SigningKey } from '../../sealing/index.ts';
import type { Instant } from '../../model/index.ts';

const FIELD = 'Witness Leaf seal';
/** Beside the certificate and the issuer's name, which stands in it and twice more: attributes and the signature itself. */
const SEAL_BYTES_BESIDE = 2048;
const RANGE = '0 '.padEnd(40);

/**
 * The signature dictionary with room for the seal, as it stands in the file: its places are known only then.
 *
 * @source ISO 32000-2 12.8.1 table 255; ETSI EN 319 142-1 for the SubFilter, from memory
 */
export function signatureBody(certificate: Uint8Array, at: Instant): Uint8Array {
  const room = '0'.repeat(2 * (3 * certificate.length + SEAL_BYTES_BESIDE));
  const when = `D:${at.replace(/[-:TZ]/g, '')}Z`;
  return Buffer.from(
    `<< /Type /Sig /Filter /Adobe.PPKLite /SubFilter /ETSI.CAdES.detached /M (${when})\n` +
      `/Reason (Sealed by the archive that made this copy)\n/ByteRange [${RANGE}]\n/Contents <${room}> >>`,
    'latin1',
  );
}

/** Names a signature in the catalog's form, as a field without a place on the sheet; gives the field. */
export function addSealField(context: PDFContext, catalog: PDFDict, signature: PDFRef, sheet: PDFRef): PDFRef {
  const given = catalog.lookup(PDFName.of('AcroForm'));
  const form = given instanceof PDFDict ? given.clone(context) : PDFDict.withContext(context);
  const fields = form.lookup(PDFName.of('Fields'));
  const flags = form.lookup(PDFName.of('SigFlags'));
  const names = fields instanceof PDFArray ? fields.asArray().map((field) => nameOf(context, field)) : [];
  let name = FIELD;
  while (names.includes(name)) name += ' again';
  const field = context.register(
    context.obj({
      Type: 'Annot',
      Subtype: 'Widget',
      FT: 'Sig',
      T: PDFString.of(name),
      V: signature,
      P: sheet,
      Rect: [0, 0, 0, 0],
      // Printed and locked.
      F: 4 + 128,
    }),
  );
  form.set(PDFName.of('Fields'), context.obj([...(fields instanceof PDFArray ? fields.asArray() : []), field]));
  // Signatures exist, and only appending keeps them valid: bits 1 and 2.
  form.set(PDFName.of('SigFlags'), PDFNumber.of((flags instanceof PDFNumber ? flags.asNumber() : 0) | 3));
  catalog.set(PDFName.of('AcroForm'), form);
  return field;
}

function nameOf(context: PDFContext, field: unknown): string {
  const dict = field instanceof PDFRef ? context.lookup(field) : field;
  const name = dict instanceof PDFDict ? dict.lookup(PDFName.of('T')) : undefined;
  return name instanceof PDFString || name instanceof PDFHexString ? name.decodeText() : '';
}

/** Where in a file its seal goes, and what the seal signs. */
export interface SealPlace {
  /** Of the first hexadecimal digit, from the file's first byte. */
  readonly at: number;
  /** Digits that have room. */
  readonly digits: number;
  /** SHA-256 of all but the room. */
  readonly hash: Uint8Array;
}

/**
 * Writes into a file which of its bytes its seal covers: everything but the room for it.
 *
 * @param prefix  the file's first bytes, which are not touched
 * @param tail  the rest, in which the signature dictionary stands at `at`; changed in place
 * @source ISO 32000-2 12.8.1: ByteRange
 */
export function placeOfSeal(prefix: Uint8Array, tail: Buffer, at: number): SealPlace {
  const range = tail.indexOf(`[${RANGE}]`, at, 'latin1') + 1;
  const open = tail.indexOf('/Contents <', range, 'latin1') + '/Contents '.length;
  const end = tail.indexOf('>', open, 'latin1') + 1;
  const whole = prefix.length + tail.length;
  const said = `0 ${prefix.length + open} ${prefix.length + end} ${whole - prefix.length - end}`;
  tail.write(said.padEnd(RANGE.length), range, 'latin1');
  const hash = createHash('sha256').update(prefix).update(tail.subarray(0, open)).update(tail.subarray(end)).digest();
  return { at: prefix.length + open + 1, digits: end - open - 2, hash };
}

/** The seal of a file in hexadecimal digits, to be written at its place. */
export async function sealFor({ hash, digits }: SealPlace, key: SigningKey): Promise<string> {
  const seal = Buffer.from(await sealPdfHash(hash, key)).toString('hex');
  if (seal.length > digits) throw new Error(`a seal of ${seal.length / 2} bytes has no room`);
  return seal;
}
