import { hash, verify } from '@node-rs/argon2';
import { Refusal } from '../../model/index.ts';

/** What a hash of a password costs. */
export interface PasswordCost {
  readonly memoryKib: number;
  readonly passes: number;
}

/** @source RFC 9106 4 describes the choice; 19 MiB in 2 passes is common practice for a service, no source */
export const DEFAULT_COST: PasswordCost = { memoryKib: 19_456, passes: 2 };

const LEAST = 12;
const MOST = 200;

/** Hashes and checks passwords. */
export interface Passwords {
  /** @throws {Refusal} malformed: too short or too long */
  hash(password: string): Promise<string>;
  /** With null, for a name that nobody has, it takes as long as with a hash and says no. */
  holds(passwordHash: string | null, password: string): Promise<boolean>;
}

/**
 * Passwords by argon2id, of which only the hash is kept.
 *
 * @throws {Refusal} malformed: as `Passwords` says
 */
export async function passwordsAt({ memoryKib, passes }: PasswordCost): Promise<Passwords> {
  // Argon2id is what the library takes where no algorithm is named.
  const make = (password: string): Promise<string> =>
    hash(fold(password), { memoryCost: memoryKib, timeCost: passes, parallelism: 1 });
  const nobodys = await make('of nobody at all');
  return {
    async hash(password) {
      const found = [...fold(password)].length;
      if (found < LEAST || found > MOST) {
        const expected = `${LEAST} to ${MOST} characters`;
        throw new Refusal('malformed', { pointer: '/password', expected, found: `${found}` });
      }
      return make(password);
    },
    async holds(passwordHash, password) {
      const isRight = await verify(passwordHash ?? nobodys, fold(password));
      return isRight && passwordHash !== null;
    },
  };
}

/** The same letters from two keyboards are the same password. @source Unicode Standard Annex 15, form KC */
function fold(password: string): string {
  return password.normalize('NFKC');
}
