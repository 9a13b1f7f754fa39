import { textOf, type ClientCommand } from './client-command.ts';
import { findCertificate } from './find-certificate.ts';
import { findTitle, TITLE_OPTION } from './find-part.ts';
import { signAndSend, SIGNING_OPTIONS } from './sign-and-send.ts';

/**
 * `key revoke FINGERPRINT`: a key of one's own side is not to be trusted any more. Signed with that key, where it is still
 * at hand, or with a new one that the other side has confirmed.
 */
export const keyRevoke: ClientCommand = {
  words: 'key revoke',
  operands: ['FINGERPRINT'],
  says: 'revokes a key of your side, lost or known to others, from now on; signed with it, or with another of yours',
  options: {
    title: TITLE_OPTION,
    reason: { takes: 'TEXT', says: 'why, in your words', needed: true },
    ...SIGNING_OPTIONS,
  },
  run: (given, tools) =>
    signAndSend(given, tools, async (client) => {
      const title = await findTitle(client, given);
      const reason = textOf(given, 'reason');
      const certificate = await findCertificate(client, '/api/certificates', given.operands[0] ?? '');
      const subject = { sha256: certificate, reason: reason.trim() };
      return { title, kind: 'revocation', order: { certificate, reason }, subject };
    }),
};
