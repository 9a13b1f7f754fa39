import { openCheckpoint, parseNote, parseVerifierKey, verifyNote, type NoteVerifier } from '../ledger/index.ts';
import { keyTexts } from './archive-key.ts';
import {
  checked,
  fails,
  holds,
  namesIn,
  numberIn,
  readOr,
  unchecked,
  type EvidenceCheck,
  type Findings,
} from './evidence-check.ts';
import { hexSha256 } from './hex-sha256.ts';
import { sealText } from './list-seal.ts';

const text = (bytes: Uint8Array): string => new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes);

/** The archive's key, in both of its forms. */
export async function checkKey(findings: Findings): Promise<readonly EvidenceCheck[]> {
  const { pack } = findings;
  const read = await readOr('archive/key.txt', 'archive-key', async () => {
    const line = text(await pack.read('archive/key.txt'));
    return { line: line.replace(/\n$/, ''), verifier: parseVerifierKey(line.replace(/\n$/, '')) };
  });
  if ('fault' in read) return [read.fault];
  const { line, verifier } = read.value;
  findings.archive = verifier;
  const checks: EvidenceCheck[] = [holds('archive/key.txt', 'archive-key')];
  for (const [name, held] of keyTexts(line, verifier)) {
    const found = findings.found.get(name) ?? 'no such member';
    if (found !== hexSha256(new TextEncoder().encode(held))) {
      checks.push(fails(name, 'archive-key', `the key ${line} and nothing else`, `SHA-256 ${found}`));
    }
  }
  return checks;
}

/** The archive's signature over the list of members. */
export async function checkListSeal({ pack, found, archive }: Findings): Promise<readonly EvidenceCheck[]> {
  const about = 'MEMBERS';
  if (archive === null) return [unchecked(about, 'list-sealed', 'the archive’s key cannot be read')];
  const read = await readOr('MEMBERS.seal', 'list-sealed', async () => ({
    seal: text(await pack.read('MEMBERS.seal')),
    signature: await pack.read('MEMBERS.seal.sig'),
  }));
  if ('fault' in read) return [read.fault];
  const { seal, signature } = read.value;
  const answer = await verifyNote(
    { text: seal, signatures: [{ name: archive.name, keyId: archive.keyId, signature }] },
    [archive],
  );
  if (!answer.holds) {
    return [fails('MEMBERS.seal and MEMBERS.seal.sig', 'list-sealed', 'a signature of the archive', 'another')];
  }
  const at = seal.split('\n')[2] ?? '';
  const expected = sealText(archive.name, at, found.get('MEMBERS') ?? '');
  return [
    checked(about, 'list-sealed', seal === expected, {
      expected: `the list of SHA-256 ${seal.split('\n')[3] ?? ''}`,
      found: `one of SHA-256 ${found.get('MEMBERS') ?? ''}`,
    }),
  ];
}

/** Every head of the log: signed, of this log, and taken apart into its own text and signature. */
export async function checkHeads(findings: Findings): Promise<readonly EvidenceCheck[]> {
  const { pack, archive } = findings;
  const names = namesIn(pack, 'heads', '.note');
  if (archive === null) return names.map((name) => unchecked(name, 'head-signed', 'the archive’s key cannot be read'));
  const checks: EvidenceCheck[] = [];
  const heads: { size: number; root: Uint8Array; note: string }[] = [];
  for (const name of names) {
    const answer = await openHead(findings, archive, name);
    checks.push(answer.check);
    if (answer.head !== null) heads.push(answer.head);
  }
  const newest = heads.sort((one, other) => one.size - other.size).at(-1);
  if (newest === undefined) return [...checks, fails('heads', 'head-signed', 'a signed head of the log', 'none')];
  findings.head = newest;
  findings.begins.set(newest.size, newest.root);
  return checks;
}

async function openHead(
  { pack, found }: Findings,
  archive: NoteVerifier,
  name: string,
): Promise<{
  readonly check: EvidenceCheck;
  readonly head: { readonly size: number; readonly root: Uint8Array; readonly note: string } | null;
}> {
  const read = await readOr(name, 'head-signed', async () => {
    const note = text(await pack.read(name));
    return { note, opened: await openCheckpoint(note, archive), parsed: parseNote(note) };
  });
  if ('fault' in read) return { check: read.fault, head: null };
  const { note, opened, parsed } = read.value;
  if (!opened.holds) {
    return { check: fails(name, 'head-signed', `a head of ${archive.name}, signed by it`, opened.reason), head: null };
  }
  const { size, root } = opened.checkpoint;
  const base = name.replace(/\.note$/, '');
  const signature = parsed.signatures.find(({ keyId, name: by }) => keyId === archive.keyId && by === archive.name);
  const isApart =
    found.get(`${base}.signed`) === hexSha256(new TextEncoder().encode(parsed.text)) &&
    found.get(`${base}.sig`) === hexSha256(signature?.signature ?? new Uint8Array());
  const check = checked(name, 'head-signed', numberIn(name) === size && isApart, {
    expected: `the name of a log of ${size} entries, with its text and signature beside it`,
    found: 'others',
  });
  return { check, head: { size, root, note } };
}
