import { pino } from 'pino';
import type { DestinationStream, Logger } from 'pino';

/** Members under which a secret might come: none of them is ever written, whoever hands them in. */
const SECRETS = ['password', 'secret', 'token', 'authorization', 'cookie', 'invitation'];

/** The journal of the service: one JSON object a line. */
export function openJournal(level: string, to?: DestinationStream): Logger {
  const options = {
    level,
    base: null,
    redact: { paths: SECRETS.flatMap((name) => [name, `*.${name}`]), censor: '(not written)' },
  };
  return to === undefined ? pino(options) : pino(options, to);
}
