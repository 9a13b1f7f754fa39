import { NOT_SHOWN, SHOWN } from './account/conclusions.ts';
import { momentWords } from './account/names.ts';
import { printable } from '../words/printable.ts';
import type { PackFacts } from '../../evidence/index.ts';

/** README.txt of a pack: how anybody checks it, what lies where, and what may be concluded from it. */
export function readmeOf(facts: PackFacts): string {
  const { title, archive, madeAt, head, contents } = facts;
  const lines = [
    'EVIDENCE PACK (witnessleaf-evidence/1)',
    '',
    `Title: ${printable(title.name)}`,
    `Made by the archive ${archive.origin} on ${momentWords(madeAt)}, from its log of ${head.size} entries.`,
    '',
    'Read account.pdf (or account.txt): who did what and when, in plain words.',
    '',
    '',
    'TO CHECK IT',
    '',
    'Unpack everything into an empty folder and say in a terminal, in that folder:',
    '',
    '    sh verify.sh',
    '',
    'This needs a shell, openssl 3.0 or later and sha256sum, and nothing else: no network, no program of ours. It prints',
    'one line for each check (holds, DOES NOT HOLD, not checked and why) and ends with 0 where everything holds, with 1',
    'where something does not, with 2 where something could not be checked. It does not stop at the first fault.',
    '',
    'At its end stand the keys on which everything rests. They are worth nothing until you have compared them: ask each',
    'person, by telephone or in writing and not by way of this pack, for the fingerprint of their key, and the operator of',
    'the archive for that of its key. Fingerprints that you know can be given to it: sh verify.sh . SHA256 SHA256 …',
    '',
    'Whoever distrusts verify.sh, which came with the pack, takes another copy of it (sh other/verify.sh THIS-FOLDER), has',
    'it read by somebody who knows shell scripts, or does by hand what it does:',
    '',
    '    sha256sum --check --strict MEMBERS',
    '    openssl pkeyutl -verify -pubin -inkey archive/key.pem -rawin -in MEMBERS.seal -sigfile MEMBERS.seal.sig',
    '    openssl cms -verify -binary -inform DER -in statements/NUMBER.p7s -content statements/NUMBER.json -nointern \\',
    '      -certfile certificates/SHA256.pem -CAfile certificates/SHA256.pem -partial_chain -purpose any \\',
    '      -attime SECONDS -out /dev/null',
    '    openssl ts -verify -data heads/NUMBER.note -in time-stamps/NUMBER-1.tst -token_in \\',
    '      -CAfile time-stamps/NUMBER-1.pem',
    '',
    'SECONDS is the time that the statement names (its first member, "at") in seconds since 1970: certificates run out, and',
    'a signature is judged by the time at which it was made. Proofs of the log are those of RFC 9162, 2.1.3 and 2.1.4.',
    '',
    '',
    'WHAT LIES WHERE',
    '',
    'MEMBERS          SHA-256 of every other file here; MEMBERS.seal and MEMBERS.seal.sig: the archive signed that list',
    'account.pdf/txt  who did what and when',
    'pack.json        the same for programs',
    'archive/         the public key of the archive, with which it signs the heads of its log',
    'certificates/    of whoever signed, each by its SHA-256',
    'statements/      what was signed (.json, RFC 8785) and its signature (.p7s, CMS, RFC 5652), by number in the log',
    'log/             entries of the log (.entry) and the proof of each (.tlog-proof)',
    'heads/           signed heads of the log, and proofs that it has only grown since each (.consistency)',
    'time-stamps/     of heads (.tst, RFC 3161), and the certificate of the authority where it is known (.pem)',
    'reports/         what comparing two files gave, and pictures of what differs',
    'history/         pictures of pages',
    ...(contents === 'files'
      ? ['files/           what was sent, each by its SHA-256']
      : [
          '',
          'The files themselves are not here, only their hashes (in pack.json and in the entries of the log). Whoever has a',
          'file compares what sha256sum says of it.',
        ]),
    '',
    'Entries of other titles are no business of this pack: they appear as hashes alone, from which nothing can be read.',
    '',
    '',
    'WHAT YOU MAY CONCLUDE, AND WHAT NOT',
    '',
    'Where every check holds, and the fingerprints are confirmed:',
    ...SHOWN.flatMap((text) => item(text)),
    '',
    'It does not follow:',
    ...NOT_SHOWN.flatMap((text) => item(text)),
    '',
    'This pack is evidence, not legal advice.',
    '',
  ];
  return lines.join('\n');
}

function item(text: string): readonly string[] {
  const lines: string[] = [];
  let line = '-';
  for (const word of text.split(' ')) {
    if (line.length + word.length > 115) {
      lines.push(line);
      line = ' ';
    }
    line += ` ${word}`;
  }
  return [...lines, line];
}
