import { open, stat } from 'node:fs/promises';
import { basename, resolve } from 'node:path';
import { Refusal } from '../../model/index.ts';
import {
  daysAfter,
  fingerprintOf,
  formatInstant,
  makeCertificate,
  makeKeyFile,
  makeKeyPair,
} from '../../sealing/index.ts';
import { EXIT } from '../exit-status.ts';
import { textOf, type ClientCommand, type Given } from './client-command.ts';
import { PASSPHRASE_OPTION, passphraseFor } from './passphrase.ts';

const KINDS = ['ecdsa-p256', 'rsa-3072'] as const;
const MOST_YEARS = 10;
/** @source common practice, no source: long enough for a book and its reprint, short enough to be renewed by its owner */
const USUAL_YEARS = 3;

/** `key new FILE`: a key of one's own, made here and kept under a passphrase; nobody else ever has it. */
export const keyNew: ClientCommand = {
  words: 'key new',
  operands: ['FILE'],
  says: 'makes a key to sign with and keeps it in FILE (PKCS#12) under a passphrase; nothing is sent anywhere',
  options: {
    name: { takes: 'NAME', says: 'who will sign with it', needed: true },
    organisation: { takes: 'NAME', says: 'whom that person signs for', needed: true },
    kind: { takes: 'KIND', says: `${KINDS.join(' or ')}; the first one where nothing is said` },
    years: { takes: 'N', says: `for how long, at most ${MOST_YEARS}; ${USUAL_YEARS} where nothing is said` },
    'passphrase-file': PASSPHRASE_OPTION,
  },
  async run(given, tools) {
    const { desk, today } = tools;
    const path = resolve(desk.folder, given.operands[0] ?? '');
    await requireNothingAt(path);
    const kind = kindOf(given);
    const days = yearsOf(given) * 365;
    const passphrase = await passphraseFor(given, tools, true);
    const keys = await makeKeyPair(kind);
    const from = formatInstant(new Date(today()));
    const certificate = await makeCertificate({
      person: { commonName: textOf(given, 'name'), organisation: textOf(given, 'organisation') },
      keys,
      from,
      until: daysAfter(from, days),
    });
    await writeNew(path, await makeKeyFile({ certificate, privateKey: keys.privateKey }, passphrase));
    desk.out.write(`${path}\nfingerprint ${await fingerprintOf(certificate)}\n`);
    desk.err.write('Keep a copy in a safe place: whoever loses it, or its passphrase, needs a new key.\n');
    return EXIT.matches;
  },
};

function kindOf(given: Given): (typeof KINDS)[number] {
  const named = given.text('kind') ?? KINDS[0];
  const kind = KINDS.find((one) => one === named);
  if (kind === undefined)
    throw new Refusal('malformed', { pointer: '--kind', expected: KINDS.join(' or '), found: named });
  return kind;
}

function yearsOf(given: Given): number {
  const named = given.text('years') ?? `${USUAL_YEARS}`;
  const years = Number(named);
  if (Number.isInteger(years) && years >= 1 && years <= MOST_YEARS) return years;
  throw new Refusal('malformed', { pointer: '--years', expected: `1 to ${MOST_YEARS}`, found: named });
}

/** A key that is overwritten is lost for good. */
async function requireNothingAt(path: string): Promise<void> {
  if ((await stat(path).catch(() => null)) === null) return;
  throw new Refusal('malformed', {
    pointer: path,
    expected: 'a new file',
    found: `${basename(path)}, which is there already`,
  });
}

async function writeNew(path: string, bytes: Uint8Array): Promise<void> {
  const file = await open(path, 'wx', 0o600);
  try {
    await file.writeFile(bytes);
    await file.sync();
  } finally {
    await file.close();
  }
}
