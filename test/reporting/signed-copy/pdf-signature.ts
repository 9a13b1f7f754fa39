import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { spawnSync } from 'node:child_process';
import { formatPem } from '../../../src/sealing/index.ts';

/** What poppler's `pdfsig` says of a file; with certificates it trusts, which need NSS's `certutil`. */
export function judgedByPoppler(pdf: Uint8Array, trusted: readonly Uint8Array[] = []): string {
  const folder = mkdtempSync(join(tmpdir(), 'signed-'));
  try {
    const path = join(folder, 'copy.pdf');
    writeFileSync(path, pdf);
    if (trusted.length === 0) return said('pdfsig', [path]);
    const store = `sql:${folder}`;
    said('certutil', ['-N', '-d', store, '--empty-password']);
    trusted.forEach((certificate, index) => {
      const pem = join(folder, `${index}.pem`);
      writeFileSync(pem, formatPem('CERTIFICATE', certificate));
      said('certutil', ['-A', '-d', store, '-n', `own ${index}`, '-t', 'CT,CT,CT', '-i', pem]);
    });
    return said('pdfsig', ['-nssdir', store, path]);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function said(command: string, args: readonly string[]): string {
  const { stdout, stderr } = spawnSync(command, args, { encoding: 'utf8' });
  return `${stdout}${stderr}`;
}

/** The last signature of a file, taken out by its ByteRange: what is signed, and the CMS in DER without its padding. */
export function lastSignature(pdf: Uint8Array): { readonly content: Uint8Array; readonly seal: Uint8Array } {
  const text = Buffer.from(pdf).toString('latin1');
  const range = [...text.matchAll(/\/ByteRange \[(\d+) (\d+) (\d+) (\d+) *\]/g)].at(-1)!;
  const [from, length, rest, end] = range.slice(1).map(Number) as [number, number, number, number];
  const content = Buffer.concat([pdf.subarray(from, from + length), pdf.subarray(rest, rest + end)]);
  const padded = Buffer.from(text.slice(length + 1, rest - 1), 'hex');
  // A sequence with two bytes of length: RFC 5652 3, X.690 8.1.3.5.
  return { content, seal: padded.subarray(0, 4 + padded.readUInt16BE(2)) };
}
