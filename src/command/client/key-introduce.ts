import { formatBase64 } from '../../ledger/index.ts';
import { EXIT } from '../exit-status.ts';
import { askServer } from './ask-server.ts';
import type { ClientCommand } from './client-command.ts';
import type { ListedCertificate } from './find-certificate.ts';
import { openNamedKey } from './key-file.ts';
import { PASSPHRASE_OPTION } from './passphrase.ts';
import { SERVER_OPTIONS, serverOf } from './server-options.ts';

/** `key introduce FILE`: the certificate of one's key is made known to the archive; the key stays here. */
export const keyIntroduce: ClientCommand = {
  words: 'key introduce',
  operands: ['FILE'],
  says: 'makes the certificate of your key known to the archive; the key itself stays where it is',
  options: { 'passphrase-file': PASSPHRASE_OPTION, ...SERVER_OPTIONS },
  async run(given, tools) {
    const { certificate } = await openNamedKey(given.operands[0] ?? '', given, tools);
    const client = askServer(await serverOf(given, tools), tools);
    const { fingerprint } = await client.post<ListedCertificate>('/api/certificates', {
      der: formatBase64(certificate),
    });
    tools.desk.out.write(`${fingerprint}\n`);
    tools.desk.err.write('Read this fingerprint to the other party over the telephone; they confirm it.\n');
    return EXIT.matches;
  },
};
