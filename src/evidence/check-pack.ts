import { hexOf } from '../ledger/index.ts';
import { certificateFacts } from '../sealing/index.ts';
import { checkHeads, checkKey, checkListSeal } from './check-archive.ts';
import { checkFacts, readFacts } from './check-facts.ts';
import { checkFingerprints, checkSeen, type KnownElsewhere } from './check-known.ts';
import { checkContinuations, checkEntries } from './check-log.ts';
import { checkLogged } from './check-logged.ts';
import { checkMembers } from './check-members.ts';
import { checkStamps } from './check-stamps.ts';
import { checkCertificates, checkStatements } from './check-statements.ts';
import { namesIn, unchecked, type EvidenceCheck, type Findings } from './evidence-check.ts';
import type { OpenedPack } from './opened-pack.ts';
import { signedFiles } from './signed-files.ts';

/** A step of the verification: it looks at one thing and says of each member what it found. */
type Step = (findings: Findings, known: KnownElsewhere) => Promise<readonly EvidenceCheck[]> | readonly EvidenceCheck[];

/** What only some places can look at: pages want a reader of PDF, the account a typesetter. */
export interface FurtherSteps {
  readonly pages: Step;
  readonly account: Step;
}

/** What came of checking a pack: every check, and what whoever relies on it must still compare. */
export interface PackAnswer {
  readonly checks: readonly EvidenceCheck[];
  /** Keys that everything rests on: of the archive in hexadecimal, and SHA-256 of certificates. */
  readonly keys: readonly { readonly of: string; readonly fingerprint: string }[];
}

/**
 * Checks an evidence pack that is open. The steps are in the order of proof: none stops the next ones, and each relies
 * only on what earlier ones proved.
 *
 * @param further  without it, what it would look at is told as not checked
 */
export async function checkPack(
  pack: OpenedPack,
  known: KnownElsewhere = {},
  further: FurtherSteps = { pages: pagesUnchecked, account: accountUnchecked },
): Promise<PackAnswer> {
  const findings: Findings = {
    pack,
    ...{ found: new Map(), listed: new Map(), begins: new Map(), entries: new Map() },
    ...{ certificates: new Map(), statements: new Map() },
    ...{ archive: null, head: null, facts: null },
  };
  const checks: EvidenceCheck[] = [];
  for (const step of stepsWith(further)) checks.push(...(await step(findings, known)));
  return { checks, keys: keysOf(findings) };
}

function stepsWith({ pages, account }: FurtherSteps): readonly Step[] {
  return [
    checkMembers,
    checkKey,
    checkListSeal,
    checkHeads,
    checkEntries,
    checkContinuations,
    readFacts,
    checkCertificates,
    checkStatements,
    checkLogged,
    pages,
    checkStamps,
    checkFacts,
    account,
    checkSeen,
    checkFingerprints,
  ];
}

function pagesUnchecked({ pack, found, statements }: Findings): readonly EvidenceCheck[] {
  const signed = signedFiles(statements);
  return namesIn(pack, 'files', '')
    .filter((name) => signed.has(found.get(name) ?? ''))
    .map((name) => unchecked(name, 'pages', 'its pages are not read here; its bytes are those that were signed'));
}

function accountUnchecked({ pack }: Findings): readonly EvidenceCheck[] {
  const why = 'it is not made again here; its bytes are those that the archive sealed';
  const told = ['verify.sh', 'account.txt', 'README.txt', 'account.pdf'];
  return told
    .filter((name) => pack.names.includes(name))
    .map((name) => unchecked(name, name === 'verify.sh' ? 'script' : 'account-as-told', why));
}

function keysOf({ archive, certificates }: Findings): PackAnswer['keys'] {
  return [
    ...(archive === null ? [] : [{ of: `the archive ${archive.name}`, fingerprint: hexOf(archive.publicKey) }]),
    ...[...certificates].map(([sha256, der]) => {
      const { commonName, organisation } = certificateFacts(der);
      return { of: `${commonName}, ${organisation}`, fingerprint: sha256 };
    }),
  ];
}
