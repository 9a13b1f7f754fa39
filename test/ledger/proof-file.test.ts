import { describe, expect, it } from 'vitest';
import {
  formatProof,
  formatProofFile,
  hashLeaf,
  parseProof,
  parseProofFile,
  proveInclusion,
  rootAt,
  signCheckpoint,
  verifyProofFile,
} from '../../src/ledger/index.ts';
import { refusalOf } from '../refusal-of.ts';
import { growLog, numbered } from './grown-log.ts';
import { newSigner } from './seeded-key.ts';

const archive = await newSigner('archive.example/books');
const log = growLog(numbered(5));
const checkpoint = { origin: 'archive.example/books', size: 5, root: await rootAt(log, 5) };
const note = await signCheckpoint(checkpoint, archive);
const file = { index: 2, proof: await proveInclusion(log, { index: 2, size: 5 }), note };
const claim = { file, leaf: log.leaves[2]!, archive: archive.verifier };

describe('a proof in a file of its own', () => {
  it('shows that the entry is in the log, years later and without the archive', async () => {
    const read = parseProofFile(formatProofFile(file));
    expect(read).toEqual(file);
    const answer = { checkpoint: { holds: true, checkpoint }, inclusion: 'holds' };
    expect(await verifyProofFile({ ...claim, file: read })).toEqual(answer);
  });

  it('shows it of an only entry too, with no hashes at all', async () => {
    const alone = growLog(numbered(1));
    const one = {
      index: 0,
      proof: [],
      note: await signCheckpoint({ ...checkpoint, size: 1, root: alone.leaves[0]! }, archive),
    };
    expect(parseProofFile(formatProofFile(one))).toEqual(one);
  });

  it('shows nothing of another entry', async () => {
    const answer = await verifyProofFile({ ...claim, leaf: hashLeaf(new Uint8Array(0)) });
    expect(answer).toEqual({ checkpoint: { holds: true, checkpoint }, inclusion: 'other-root' });
  });

  it('is not followed to a root that the archive did not sign', async () => {
    const stranger = (await newSigner('archive.example/books')).verifier;
    const answer = await verifyProofFile({ ...claim, archive: stranger });
    expect(answer).toEqual({ checkpoint: { holds: false, reason: 'no-known-key' }, inclusion: 'not-checked' });
  });

  it.each([
    ['nothing', ''],
    ['another first line', formatProofFile(file).replace('@v1', '@v2')],
    ['a nought before its number', formatProofFile(file).replace('index 2', 'index 02')],
    ['no number', formatProofFile(file).replace('index 2\n', '')],
    ['a number beyond counting', formatProofFile(file).replace('index 2', 'index 9007199254740993')],
  ])('with %s is refused', (_, text) => {
    expect(refusalOf(() => parseProofFile(text))).toEqual({
      kind: 'malformed',
      pointer: 'proof',
      expected: 'c2sp.org/tlog-proof@v1 and an index',
      found: 'other lines',
    });
  });

  it('has at most 63 hashes', () => {
    const lines = Array.from({ length: 64 }, () => formatProof([log.leaves[0]!])[0]!);
    expect(parseProof(lines.slice(1))).toHaveLength(63);
    const refused = { kind: 'too-large', what: 'a proof', limit: 63, found: 64, unit: 'hashes' };
    expect(refusalOf(() => parseProof(lines))).toEqual(refused);
  });
});
