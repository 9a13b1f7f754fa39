import {
  hashLeaf,
  parseBase64,
  parseProof,
  parseProofFile,
  verifyConsistency,
  verifyInclusion,
} from '../ledger/index.ts';
import { parseLogEntry, Refusal } from '../model/index.ts';
import { CONSISTENCY_LINE } from './archive-key.ts';
import {
  checked,
  fails,
  namesIn,
  numberIn,
  readOr,
  unchecked,
  type EvidenceCheck,
  type Findings,
} from './evidence-check.ts';

/** Every entry: its form, and that its proof leads to the newest head. */
export async function checkEntries(findings: Findings): Promise<readonly EvidenceCheck[]> {
  const { pack, head } = findings;
  const checks: EvidenceCheck[] = [];
  for (const name of namesIn(pack, 'log', '.entry')) {
    const proofName = name.replace(/\.entry$/, '.tlog-proof');
    const read = await readOr(name, 'entry-form', async () => {
      const bytes = await pack.read(name);
      return { bytes, says: parseLogEntry(bytes) };
    });
    if ('fault' in read) {
      checks.push(read.fault);
      continue;
    }
    if (head === null) {
      checks.push(unchecked(name, 'entry-in-log', 'there is no signed head'));
      continue;
    }
    const proof = await readOr(proofName, 'entry-in-log', async () =>
      parseProofFile(new TextDecoder().decode(await pack.read(proofName))),
    );
    if ('fault' in proof) {
      checks.push(proof.fault);
      continue;
    }
    const { bytes, says } = read.value;
    const { index, note } = proof.value;
    const { size, root } = head;
    const answer = verifyInclusion({ leaf: hashLeaf(bytes), index, size, root, proof: proof.value.proof });
    const isSame = note === head.note && index === numberIn(name);
    const found = isSame ? answer : 'a proof of another place or head';
    const expected = `a proof that leads to the head of ${size} entries`;
    checks.push(checked(name, 'entry-in-log', isSame && answer === 'holds', { expected, found }));
    if (isSame && answer === 'holds') findings.entries.set(index, { index, bytes, says });
  }
  for (const name of namesIn(pack, 'log', '.tlog-proof')) {
    if (pack.names.includes(name.replace(/\.tlog-proof$/, '.entry'))) continue;
    checks.push(fails(name, 'entry-in-log', 'an entry beside its proof', 'none'));
  }
  return checks;
}

/** That the log of the newest head begins with the one that each signer saw, and with each one that was time-stamped. */
export async function checkContinuations(findings: Findings): Promise<readonly EvidenceCheck[]> {
  const { pack, head, begins } = findings;
  const checks: EvidenceCheck[] = [];
  for (const name of namesIn(pack, 'heads', '.consistency')) {
    const read = await readOr(name, 'log-continues', async () =>
      parseContinuation(new TextDecoder().decode(await pack.read(name))),
    );
    if ('fault' in read) {
      checks.push(read.fault);
      continue;
    }
    if (head === null) {
      checks.push(unchecked(name, 'log-continues', 'there is no signed head'));
      continue;
    }
    const { size: oldSize, root: oldRoot, proof } = read.value;
    const answer = verifyConsistency({ oldSize, oldRoot, newSize: head.size, newRoot: head.root, proof });
    const isNamed = numberIn(name) === oldSize;
    checks.push(
      checked(name, 'log-continues', isNamed && answer === 'holds', {
        expected: `a proof from this size to the log of ${head.size} entries`,
        found: isNamed ? answer : `one from ${oldSize}`,
      }),
    );
    if (isNamed && answer === 'holds') begins.set(oldSize, oldRoot);
  }
  return checks;
}

function parseContinuation(text: string): {
  readonly size: number;
  readonly root: Uint8Array;
  readonly proof: readonly Uint8Array[];
} {
  const lines = text.split('\n');
  const [first, begin, ...rest] = lines.slice(0, -1);
  const [, digits, root] = /^([1-9]\d{0,14}) (\S+)$/.exec(begin ?? '') ?? [];
  if (first !== CONSISTENCY_LINE || lines.at(-1) !== '' || digits === undefined || root === undefined) {
    const expected = `${CONSISTENCY_LINE}, a size and a root`;
    throw new Refusal('malformed', { pointer: 'proof', expected, found: 'other lines' });
  }
  return { size: Number(digits), root: parseBase64(root, 'root'), proof: parseProof(rest) };
}
