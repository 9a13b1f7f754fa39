import { parseNote, parseCheckpoint, hexOf } from '../ledger/index.ts';
import { Refusal } from '../model/index.ts';
import { checkTimeStamp, sha256 } from '../sealing/index.ts';
import { certificateInPem } from './certificate-pem.ts';
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

/** Every time-stamp: that it is of a head that the log continues, and by an authority whose certificate is there. */
export async function checkStamps(findings: Findings): Promise<readonly EvidenceCheck[]> {
  const checks: EvidenceCheck[] = [];
  for (const name of namesIn(findings.pack, 'time-stamps', '.tst')) checks.push(...(await stampChecks(findings, name)));
  return checks;
}

async function stampChecks({ pack, begins }: Findings, name: string): Promise<readonly EvidenceCheck[]> {
  const size = numberIn(name);
  const begin = size === null ? undefined : begins.get(size);
  if (size === null || begin === undefined) {
    return [fails(name, 'time-stamped-head', 'a head that the log continues', 'none')];
  }
  const pem = name.replace(/\.tst$/, '.pem');
  const hasAuthority = pack.names.includes(pem);
  const read = await readOr(name, 'time-stamp-form', async () => {
    const head = name.replace(/^time-stamps\/(\d+)-.*$/, 'heads/$1.note');
    const note = await pack.read(head);
    const { text } = parseNote(note);
    const hash = await sha256(note);
    const trusted = hasAuthority ? [derOf(await pack.read(pem))] : [];
    return { text, answer: await checkTimeStamp({ token: await pack.read(name), hash, trusted }) };
  });
  if ('fault' in read) return [read.fault];
  const { text, answer } = read.value;
  const { root } = parseCheckpoint(text);
  return [
    checked(name, 'time-stamped-head', hexOf(root) === hexOf(begin), {
      expected: `the head of ${size} entries that the log continues`,
      found: 'another',
    }),
    ...answer.checks
      // Of what was asked the answer alone is kept.
      .filter((check) => check.name !== 'nonce')
      .map((check): EvidenceCheck => {
        if (check.name !== 'authority-trusted' || hasAuthority) return { about: name, check };
        return unchecked(name, 'authority-trusted', 'the pack has no certificate of the authority');
      }),
  ];
}

function derOf(pem: Uint8Array): Uint8Array {
  try {
    return certificateInPem(new TextDecoder().decode(pem));
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    // Not a certificate: then nothing is trusted, and the check says so.
    return new Uint8Array();
  }
}
