import { certificateFacts, fingerprintOf, formatPem } from '../../sealing/index.ts';
import { printable } from '../../reporting/index.ts';
import { EXIT } from '../exit-status.ts';
import type { ClientCommand } from './client-command.ts';
import { openNamedKey } from './key-file.ts';
import { PASSPHRASE_OPTION } from './passphrase.ts';

/** `key show FILE`: whose key it is, and the fingerprint to read aloud; the secret half stays where it is. */
export const keyShow: ClientCommand = {
  words: 'key show',
  operands: ['FILE'],
  says: 'says whose key is in FILE and its fingerprint, to be read to the other party over the telephone',
  options: {
    certificate: { takes: null, says: 'prints the certificate itself, which is not secret' },
    'passphrase-file': PASSPHRASE_OPTION,
  },
  async run(given, tools) {
    const { certificate } = await openNamedKey(given.operands[0] ?? '', given, tools);
    const { out } = tools.desk;
    if (given.isSet('certificate')) {
      out.write(formatPem('CERTIFICATE', certificate));
      return EXIT.matches;
    }
    const { commonName, organisation, from, until, key } = certificateFacts(certificate);
    const lines = [
      `${commonName}, ${organisation}`,
      `fingerprint ${await fingerprintOf(certificate)}`,
      `${key}, from ${from.slice(0, 10)} to ${until.slice(0, 10)}`,
    ];
    for (const line of lines) out.write(`${printable(line)}\n`);
    return EXIT.matches;
  },
};
