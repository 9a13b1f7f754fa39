import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PDFDocument, PDFName, PDFNumber } from '@cantoo/pdf-lib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS } from '../../../src/model/index.ts';
import { openBook } from '../../../src/reading/index.ts';
import { makePrintCopy, makeSignedCopy } from '../../../src/reporting/index.ts';
import { COPY_CAUTIONS } from '../../../src/reporting/signed-copy/certificate-sheet.ts';
import { fingerprintOf } from '../../../src/sealing/index.ts';
import { hasTool, run } from '../../reading/pdf/outside-tool.ts';
import { hashOf, refusalOfPromise, withByte } from '../../sealing/people.ts';
import { ODD_PAGES, oddBook } from './odd-book.ts';
import { judgedByPoppler } from './pdf-signature.ts';
import { archiveKey, hexOf, orderFor, TITLE } from './sample-order.ts';

const key = await archiveKey();
const few = ODD_PAGES.slice(0, 3);
let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'copies-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

function filed(pdf: Uint8Array, name = 'copy.pdf'): string {
  const path = join(folder, name);
  writeFileSync(path, pdf);
  return path;
}

describe('a copy', () => {
  it.each([false, true])('begins with the dummy’s file, byte for byte (packed: %s)', async (packed) => {
    const dummy = await oddBook(few, packed);
    const order = await orderFor(dummy, key);
    for (const copy of [await makeSignedCopy(order), await makePrintCopy(order)]) {
      expect(hexOf(copy.subarray(0, dummy.length))).toBe(order.file.sha256);
      const book = await openBook(filed(copy), DEFAULT_LIMITS);
      expect(book.pageCount).toBe(few.length + 1);
    }
  });

  it('is the same file for the same order and another for another day', async () => {
    const order = await orderFor(await oddBook(few), await archiveKey('rsa-3072'));
    const [signed, print] = [await makeSignedCopy(order), await makePrintCopy(order)];
    const again = structuredClone({ ...order, key: null });
    expect(hexOf(await makeSignedCopy({ ...again, key: order.key }))).toBe(hexOf(signed));
    expect(hexOf(await makePrintCopy(order))).toBe(hexOf(print));
    const later = { ...order, at: '2026-11-27T09:30:00Z' };
    expect(hexOf(await makeSignedCopy(later))).not.toBe(hexOf(signed));
    expect(hexOf(await makePrintCopy(later))).not.toBe(hexOf(print));
  });

  it('is not made of other bytes, or of other pages, than those that were signed', async () => {
    const dummy = await oddBook(few);
    const order = await orderFor(dummy, key);
    const changed = withByte(dummy, dummy.length - 3);
    expect(await refusalOfPromise(makeSignedCopy({ ...order, pdf: changed }))).toEqual({
      kind: 'unproven',
      what: 'dummy.pdf',
      checks: [{ name: 'sha256', expected: hexOf(dummy), found: hexOf(changed) }],
    });
    const pages = order.file.pages.slice(1);
    expect(await refusalOfPromise(makePrintCopy({ ...order, file: { ...order.file, pages } }))).toEqual({
      kind: 'unproven',
      what: 'dummy.pdf',
      checks: [{ name: 'pages', expected: '2', found: '3' }],
    });
  });

  it('is not made of what is no PDF file', async () => {
    const order = await orderFor(await oddBook(few), key);
    const found = await refusalOfPromise(makeSignedCopy({ ...order, pdf: Buffer.from('a letter') }));
    expect(found).toEqual({ kind: 'unreadable', file: 'dummy.pdf', reason: 'it is not a PDF file' });
  });
});

const reads = hasTool('qpdf', 'qpdf') && hasTool('pdftotext', 'poppler-utils') && hasTool('pdfsig', 'poppler-utils');

describe.skipIf(!reads)('qpdf and poppler', () => {
  const textOf = (pdf: Uint8Array, ...range: readonly string[]): string =>
    run('pdftotext', ['-layout', ...range, filed(pdf), '-']).replaceAll(/[\s\u00a0]+/g, ' ');
  const faultless = (pdf: Uint8Array): void =>
    expect(run('qpdf', ['--check', filed(pdf)])).toMatch(/No syntax or stream encoding errors found/);

  it('read from each page of a signed copy where it belongs, what its content is and who signed it', async () => {
    const order = await orderFor(await oddBook(few), key);
    const copy = await makeSignedCopy(order);
    faultless(copy);
    for (const [index, hash] of order.file.pages.entries()) {
      const text = textOf(copy, '-f', `${index + 1}`, '-l', `${index + 1}`);
      const fours = hash.slice(0, 16).replace(/.{4}(?!$)/g, '$& ');
      for (const words of [TITLE, 'Book block', `Page ${index + 1} of 3`, fours, 'Ödegård-Žižka', 'Súilleabháin']) {
        expect(text).toContain(words);
      }
    }
  });

  it('read from the certificate the hashes, signers, keys, the place in the log and where its word ends', async () => {
    const order = await orderFor(await oddBook(few), key);
    const text = textOf(await makeSignedCopy(order), '-f', '4');
    const fingerprint = await fingerprintOf(key.certificate);
    for (const words of [
      order.file.sha256,
      `signed on 24 November 2026 at 16:12 UTC with the key ${fingerprint}`,
      `Statement ${hashOf('1').slice(32)}, entry 41 of the log`,
      `Certificate, SHA-256 ${hashOf('b')}`,
      `57 entries when this copy was made, root ${hashOf('f')}`,
      'This head has no time-stamp of an authority yet',
      `The first ${order.file.bytes} bytes of this copy are the file above`,
      ...COPY_CAUTIONS,
    ]) {
      expect(text).toContain(words);
    }
    for (const hash of order.file.pages) expect(text.replaceAll(' ', '')).toContain(hash);
    const timeStamp = { authority: 'Timely & Sons', at: '2026-11-26T09:00:00Z' };
    const stamped = textOf(await makeSignedCopy({ ...order, head: { ...order.head, timeStamp } }), '-f', '4');
    expect(stamped).toContain('This head was time-stamped on 26 November 2026 at 09:00 UTC by Timely & Sons.');
  });

  it('find in a print copy room to sign, no signatory and no seal', async () => {
    const copy = await makePrintCopy(await orderFor(await oddBook(few), key));
    faultless(copy);
    const text = textOf(copy);
    for (const words of ['Print copy of 26 November 2026', 'To be signed behind page 3', 'Place and day']) {
      expect(text).toContain(words);
    }
    expect(text).not.toContain('Ödegård');
    expect(judgedByPoppler(copy)).toContain('does not contain any signatures');
  });

  it('read names in any script: what the typeface has as it is, what it has not by its number', async () => {
    const order = await orderFor(await oddBook(few.slice(0, 1)), key);
    const long = 'Долгая дорога в дюнах – 長い道 – הדרך הארוכה 😀 \u202Eover '.repeat(6);
    const copy = await makeSignedCopy({ ...order, title: long, part: long, fileName: long });
    faultless(copy);
    const text = textOf(copy, '-f', '2').replaceAll(' ', '');
    expect(text).toContain('Долгаядорогавдюнах–[U+9577][U+3044][U+9053]–[U+05D4]');
    expect(text).toContain('[U+1F600][U+202E]over');
    expect(textOf(copy, '-l', '1')).toContain('Page 1 of 1');
  });

  it('find no fault with a copy of a file with a page used twice, an empty page and a form of its own', async () => {
    const book = await PDFDocument.load(await oddBook(few));
    book.getForm().createTextField('remark').addToPage(book.getPage(0));
    book.getPage(1).node.delete(PDFName.of('Contents'));
    const tree = book.catalog.Pages();
    tree.Kids().push(tree.Kids().get(0));
    tree.set(PDFName.of('Count'), PDFNumber.of(4));
    const dummy = await book.save({ useObjectStreams: false });
    const copy = await makeSignedCopy(await orderFor(dummy, key));
    faultless(copy);
    expect(textOf(copy, '-l', '1')).toContain('Page 1 of 4');
    expect(textOf(copy, '-f', '2', '-l', '2')).toContain('Page 2 of 4');
    expect(textOf(copy, '-f', '4', '-l', '4')).toContain('Page 4 of 4');
    expect(judgedByPoppler(copy)).toContain('Signature is Valid');
    const fields = (await PDFDocument.load(copy)).getForm().getFields();
    expect(fields.map((field) => field.getName())).toEqual(['remark', 'Witness Leaf seal']);
  });

  it.each([
    ['bytes before its header', (file: string) => `\n\n${file}`],
    ['an end that points nowhere', (file: string) => file.replace(/startxref\n\d+/, 'startxref\n7')],
  ])('find a sound copy of a file with %s, written anew, and the certificate says so', async (_, damage) => {
    const dummy = Buffer.from(damage(Buffer.from(await oddBook(few)).toString('latin1')), 'latin1');
    const copy = await makeSignedCopy(await orderFor(dummy, key));
    faultless(copy);
    expect(judgedByPoppler(copy)).toContain('Signature is Valid');
    expect(textOf(copy, '-f', '4')).toContain('this copy was written anew from its objects');
    expect(textOf(copy, '-f', '2', '-l', '2')).toContain('2 no trim: the sheet is the page');
  });

  it('cannot make one of a locked file, and neither can we', async () => {
    const [open, locked] = [filed(await oddBook(few), 'open.pdf'), join(folder, 'locked.pdf')];
    run('qpdf', ['--encrypt', '', 'owner', '256', '--', open, locked]);
    const pdf = readFileSync(locked);
    const order = await orderFor(await oddBook(few), key);
    const asked = { ...order, pdf, file: { ...order.file, sha256: hexOf(pdf), bytes: pdf.length } };
    expect(await refusalOfPromise(makeSignedCopy(asked))).toMatchObject({ kind: 'unreadable', file: 'dummy.pdf' });
  });
});
