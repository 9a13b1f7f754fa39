import type { ClientCommand } from './client-command.ts';
import { findCertificate } from './find-certificate.ts';
import { findTitle, TITLE_OPTION } from './find-part.ts';
import { signAndSend, SIGNING_OPTIONS } from './sign-and-send.ts';

/** `key confirm FINGERPRINT`: what was read aloud is held against the certificate, and the confirmation signed. */
export const keyConfirm: ClientCommand = {
  words: 'key confirm',
  operands: ['FINGERPRINT'],
  says: 'confirms the key of the other party, whose FINGERPRINT they have read to you',
  options: { title: TITLE_OPTION, ...SIGNING_OPTIONS },
  run: (given, tools) =>
    signAndSend(given, tools, async (client) => {
      const title = await findTitle(client, given);
      const typed = given.operands[0] ?? '';
      const certificate = await findCertificate(client, `/api/titles/${title.id}/certificates`, typed);
      return { title, kind: 'key-confirmation', order: { certificate }, subject: { sha256: certificate } };
    }),
};
