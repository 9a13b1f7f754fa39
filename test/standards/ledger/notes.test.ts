import { describe, expect, it } from 'vitest';
import {
  formatNote,
  formatProofFile,
  formatVerifierKey,
  hexOf,
  noteVerifier,
  openCheckpoint,
  parseNote,
  parseProofFile,
  parseVerifierKey,
  signCheckpoint,
  signNote,
  verifyNote,
  verifyProofFile,
} from '../../../src/ledger/index.ts';
import { bytesOf } from '../../ledger/grown-log.ts';
import { seededKey } from '../../ledger/seeded-key.ts';
import { nameOf, readProbes } from '../probe.ts';

interface GivenNote {
  readonly verifierKey: string;
  readonly text: string;
  readonly line: string;
}
interface GivenFile {
  readonly verifierKey: string;
  readonly leaf: string;
  readonly file: string;
}

const notes = readProbes<GivenNote, boolean>(new URL('signed-notes.json', import.meta.url));
const files = readProbes<GivenFile, { origin: string; size: number; root: string; index: number }>(
  new URL('proof-files.json', import.meta.url),
);

describe('signed notes are those of the C2SP specification', () => {
  it('4 probes are there', () => expect(notes.length + files.length).toBe(4));

  it.each(notes.map((probe) => [nameOf(probe), probe] as const))('%s', async (_, { given, expected }) => {
    const verifier = parseVerifierKey(given.verifierKey);
    expect(formatVerifierKey(verifier)).toBe(given.verifierKey);
    const note = `${given.text}\n${given.line}\n`;
    const read = parseNote(note);
    expect(read.text).toBe(given.text);
    expect(formatNote(read)).toBe(note);
    expect(await verifyNote(read, [verifier])).toEqual({ holds: expected, by: [verifier] });
  });

  it('Peter Neumann’s published test key signs the published bytes (R: golang.org/x/mod sumdb/note/note_test.go)', async () => {
    const { verifierKey, text, line } = notes[1]!.given;
    const seed = Buffer.from('AYEKFALVFGyNhPJEMzD1QIDr+Y7hfZx09iUvxdXHKDFz', 'base64').subarray(1);
    const signer = { verifier: parseVerifierKey(verifierKey), privateKey: await seededKey(seed) };
    expect(formatNote(await signNote(text, signer))).toBe(`${text}\n${line}\n`);
  });

  it('the key number of RFC 8032 7.1 TEST 1 under a name is the one two programs found (D)', () => {
    const key = bytesOf('d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a');
    expect(noteVerifier('log.example/test', key).keyId).toBe('61ef8101');
  });
});

describe('checkpoints and proof files are those of the C2SP specification', () => {
  it.each(files.map((probe) => [nameOf(probe), probe] as const))('%s', async (_, { given, expected }) => {
    const file = parseProofFile(given.file);
    expect(formatProofFile(file)).toBe(given.file);
    const archive = parseVerifierKey(given.verifierKey);
    const { origin, size, root, index } = expected;
    expect(file.index).toBe(index);
    const checkpoint = { holds: true, checkpoint: { origin, size, root: bytesOf(root) } };
    expect(await openCheckpoint(file.note, archive)).toEqual(checkpoint);
    const leaf = bytesOf(given.leaf);
    expect(await verifyProofFile({ file, leaf, archive })).toEqual({ checkpoint, inclusion: 'holds' });
  });

  it('a checkpoint signed here is the published one, byte for byte (D: openssl and another program)', async () => {
    const { given, expected } = files[0]!;
    // RFC 8032 7.1 TEST 1, from memory; its public key comes out as published, or the signature would not.
    const seed = Buffer.from('9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60', 'hex');
    const signer = { verifier: parseVerifierKey(given.verifierKey), privateKey: await seededKey(seed) };
    const note = await signCheckpoint({ origin: expected.origin, size: 8, root: bytesOf(expected.root) }, signer);
    const [body, own] = [given.file.split('\n\n')[1], given.file.split('\n\n')[2]!.split('\n')[0]];
    expect(note).toBe(`${body}\n\n${own}\n`);
    expect(hexOf(signer.verifier.publicKey)).toBe('d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a');
  });

  it('the example of tlog-checkpoint is read as it stands there', async () => {
    // Its key is not published with it, so only the form can be checked, and that nobody believes it without a key.
    const note =
      'example.com/behind-the-sofa\n20852163\nCsUYapGGPo4dkMgIAUqom/Xajj7h2fB2MPA3j2jxq2I=\n\n' +
      '— example.com/behind-the-sofa Az3grlgtzPICa5OS8npVmf1Myq/5IZniMp+ZJurmRDeOoRDe4URYN7u5/Zhcyv2q1gGzGku9nTo+zyWE+xeMcTOAYQ8=\n';
    expect(formatNote(parseNote(note))).toBe(note);
    const stranger = noteVerifier('example.com/behind-the-sofa', new Uint8Array(32).fill(9));
    expect(await openCheckpoint(note, stranger)).toEqual({ holds: false, reason: 'no-known-key' });
  });
});
