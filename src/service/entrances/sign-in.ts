import { Refusal } from '../../model/index.ts';
import type { ServiceTools } from '../tools.ts';
import { hashOfSecret, newSecret } from './secret.ts';
import { sessionCookie } from './session-cookie.ts';

const HOUR_MS = 3_600_000;
/** So many wrong passwords in a row are a person's own; each one after them locks the account for longer. */
const FREE_TRIES = 5;
const FIRST_LOCK_MS = 60_000;
const LONGEST_LOCK_MS = HOUR_MS;

/** One answer to all of it: a stranger learns neither names nor that an account is locked. */
const NOT_IN = 'the name or the password is not right, or too many were tried: then it takes some time until the next';

/**
 * Who has this name and password.
 *
 * @returns the id of the person
 * @throws {Refusal} unidentified: nobody, or locked after too many tries
 */
export async function personOfPassword(signInName: string, password: string, tools: ServiceTools): Promise<string> {
  const { accounts } = tools.archive.catalogue;
  const account = await accounts.byName(signInName);
  const isLocked = (account?.lockedUntilMs ?? 0) > tools.now();
  const isRight = await tools.passwords.holds(account?.passwordHash ?? null, password);
  if (account !== null && isRight && !isLocked) {
    if (account.failedTries > 0) await accounts.succeeded(account.personId);
    return account.personId;
  }
  if (account !== null && !isLocked) {
    const tries = await accounts.failed(account.personId);
    if (tries >= FREE_TRIES) await accounts.lock(account.personId, tools.now() + lockMs(tries));
  }
  throw new Refusal('unidentified', { reason: NOT_IN });
}

/** @source common practice, no source: doubled with each try, up to an hour */
function lockMs(tries: number): number {
  return Math.min(LONGEST_LOCK_MS, FIRST_LOCK_MS * 2 ** (tries - FREE_TRIES));
}

/** Opens a session. @returns the header that hands it to the browser */
export async function openSession(personId: string, tools: ServiceTools): Promise<string> {
  const secret = newSecret();
  const at = tools.now();
  const lastsMs = tools.configuration.sessionHours * HOUR_MS;
  await tools.archive.catalogue.entrances.add({
    tokenHash: hashOfSecret(secret),
    kind: 'session',
    personId,
    label: '',
    madeMs: at,
    untilMs: at + lastsMs,
  });
  return sessionCookie(secret, lastsMs / 1000, tools.configuration);
}
