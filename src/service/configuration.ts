import { cpus } from 'node:os';
import { fileURLToPath } from 'node:url';
import { Refusal } from '../model/index.ts';

const MIB = 2 ** 20;

/** A setting of the service: the variable of the environment, what holds where nothing is said, and what it is for. */
export interface Setting<T> {
  readonly name: string;
  /** As somebody would write it. */
  readonly byDefault: string;
  readonly says: string;
  /** Null: not a value of this setting. */
  readonly read: (text: string) => T | null;
}

const setting = <T>(name: string, byDefault: string, says: string, read: (text: string) => T | null): Setting<T> => ({
  name: `WITNESSLEAF_${name}`,
  byDefault,
  says,
  read,
});

const text = (value: string): string => value;

const whole =
  (least: number, most: number) =>
  (value: string): number | null => {
    const number = /^\d{1,9}$/.test(value) ? Number(value) : NaN;
    return number >= least && number <= most ? number : null;
  };

const origin = (value: string): string | null => {
  if (value === '') return '';
  const url = URL.canParse(value) ? new URL(value) : null;
  return url !== null && /^https?:$/.test(url.protocol) && url.pathname === '/' ? url.origin : null;
};

const address = (value: string): string | null =>
  value === '' || (URL.canParse(value) && /^https?:$/.test(new URL(value).protocol)) ? value : null;

const level = (value: string): string | null =>
  ['trace', 'debug', 'info', 'warn', 'error', 'silent'].includes(value) ? value : null;

/** Every setting there is. */
export const SETTINGS = {
  folder: setting('FOLDER', 'storage/archive', 'the folder of the archive', text),
  host: setting('HOST', '127.0.0.1', 'the address that is listened on; `0.0.0.0` for every one', text),
  port: setting('PORT', '8420', 'the port; 0 for any that is free', whole(0, 65535)),
  origin: setting(
    'ORIGIN',
    '',
    'how people reach the service, as `https://proof.example.com`; where it is empty, by host and port',
    origin,
  ),
  proxies: setting('PROXIES', '0', 'proxies in front that tell who asks', whole(0, 10)),
  uploadMib: setting('UPLOAD_MIB', '4096', 'the largest file that is taken, in MiB', whole(1, 1_000_000)),
  workers: setting('WORKERS', String(Math.max(1, cpus().length)), 'pages that are read at the same time', whole(1, 64)),
  sessionHours: setting('SESSION_HOURS', '12', 'after so many hours people sign in again', whole(1, 720)),
  invitationDays: setting('INVITATION_DAYS', '7', 'for so long an invitation is good', whole(1, 90)),
  requestsPerMinute: setting('REQUESTS_PER_MINUTE', '1200', 'requests of one address', whole(1, 1_000_000)),
  signInsPerMinute: setting('SIGN_INS_PER_MINUTE', '10', 'tries to sign in of one address', whole(1, 10_000)),
  timeStampUrl: setting('TIME_STAMP_URL', '', 'an authority for time-stamps (RFC 3161); empty: none', address),
  timeStampTrust: setting(
    'TIME_STAMP_TRUST',
    '',
    'a file with the certificates (PEM) of that authority, or of who issues for it',
    text,
  ),
  metricsToken: setting('METRICS_TOKEN', '', 'bearer token for `/metrics`; empty: asked from this machine only', text),
  logLevel: setting('LOG_LEVEL', 'info', '`debug`, `info`, `warn`, `error` or `silent`', level),
  stopSeconds: setting('STOP_SECONDS', '20', 'what is under way gets so long at a stop', whole(1, 600)),
} as const;

/** What the service was told about its surroundings. */
export type Configuration = { readonly [Name in keyof typeof SETTINGS]: ValueOf<(typeof SETTINGS)[Name]> } & {
  readonly uploadBytes: number;
};

type ValueOf<S> = S extends Setting<infer T> ? T : never;

/** The top of the project: relative folders start there. */
export const PROJECT_FOLDER = fileURLToPath(new URL('../../', import.meta.url));

/** Variables that the commands of a client read; they may stand beside those of the service. */
const OF_THE_CLIENT = ['WITNESSLEAF_SERVER', 'WITNESSLEAF_TOKEN', 'WITNESSLEAF_PASSPHRASE', 'WITNESSLEAF_WORKER_MB'];

/**
 * Reads the configuration from variables of the environment. An empty variable is one that was not set.
 *
 * @throws {Refusal} malformed: a value that is none of its setting, or a variable of ours that is no setting
 */
export function readConfiguration(environment: Readonly<Record<string, string | undefined>>): Configuration {
  const known = new Set<string>([...Object.values(SETTINGS).map(({ name }) => name), ...OF_THE_CLIENT]);
  const stranger = Object.keys(environment).find((name) => name.startsWith('WITNESSLEAF_') && !known.has(name));
  if (stranger !== undefined) {
    throw new Refusal('malformed', { pointer: stranger, expected: 'a setting of the service', found: 'none of them' });
  }
  const read = <T>({ name, byDefault, says, read: parse }: Setting<T>): T => {
    const found = environment[name] ?? '';
    const value = parse(found === '' ? byDefault : found);
    if (value === null) throw new Refusal('malformed', { pointer: name, expected: says, found: JSON.stringify(found) });
    return value;
  };
  const values = Object.fromEntries(
    Object.entries(SETTINGS).map(([key, one]) => [key, read(one as Setting<string | number>)]),
  ) as Omit<Configuration, 'uploadBytes'>;
  return { ...values, uploadBytes: values.uploadMib * MIB };
}
