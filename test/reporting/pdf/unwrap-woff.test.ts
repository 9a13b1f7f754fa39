import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import PDFDocument from 'pdfkit';
import { describe, expect, it } from 'vitest';
import { unwrapWoff } from '../../../src/reporting/pdf/unwrap-woff.ts';

const { resolve } = createRequire(import.meta.url);
const fontOf = (name: string): Buffer =>
  readFileSync(resolve(`@fontsource/source-serif-4/files/source-serif-4-${name}.woff`));

/** A page of text as a PDF. */
async function set(font: Buffer, text: string): Promise<string> {
  const document = new PDFDocument({ info: { CreationDate: new Date(0) } });
  const pieces: Buffer[] = [];
  const done = new Promise((ended) => document.on('end', ended));
  document.on('data', (piece: Buffer) => pieces.push(piece));
  document.registerFont('one', font);
  document.font('one').text(text);
  document.end();
  await done;
  return Buffer.concat(pieces).toString('latin1');
}

describe('a font that is unwrapped', () => {
  it.each([
    ['latin-400-normal', 'Officina, fjord, “quire”'],
    ['latin-600-normal', 'AVATAR To'],
    ['cyrillic-400-italic', 'зимний круг'],
  ])('sets the same page as the one it came in, byte for byte: %s', async (name, text) => {
    const woff = fontOf(name);
    const plain = unwrapWoff(woff);
    expect(plain.length).toBeGreaterThan(woff.length);
    expect(await set(plain, text)).toBe(await set(woff, text));
  });

  it('is one of ours, and nothing else', () => {
    expect(() => unwrapWoff(Buffer.from('wOF2 and so on'))).toThrow('a font of ours that is no WOFF 1.0');
  });
});
