import { Refusal } from '../../model/index.ts';
import type { Catalogue } from '../catalogue/index.ts';
import { askAuthority, type Authority } from './ask-authority.ts';

/** How heads are time-stamped. */
export interface TimeStampingOrder extends Authority {
  /** Milliseconds since 1970. */
  readonly now: () => number;
  /** Between two looks at the log; as long may an entry wait for the first try. */
  readonly everyMs?: number;
  /** Told of whatever is no refusal by the authority. */
  readonly onTrouble?: (error: unknown) => void;
}

/** Time-stamping that runs. */
export interface TimeStamping {
  /** Looks now: asks for the latest head, and again for those whose next try has come. @returns how many it got */
  readonly look: () => Promise<number>;
  /** Ends it, when the look in hand has ended. */
  readonly close: () => Promise<void>;
}

/** The wait doubles from try to try, up to six hours. */
const FIRST_WAIT_MS = 60_000;
const LONGEST_WAIT_MS = 6 * 60 * 60_000;
/** Asked at one look. */
const MOST = 20;

/**
 * Has the heads of the log time-stamped by an authority. Whenever the log has grown since the last head that was asked
 * for, the latest head is asked for; a head covers all entries before it. What the authority does not give is asked for
 * again, for as long as it takes, over every restart; until then it is pending and shown as that. An authority that is
 * not reached is asked for one head at a look, not for all.
 */
export function startTimeStamping({ log, timeStamps }: Catalogue, order: TimeStampingOrder): TimeStamping {
  const { now, everyMs = 60_000, onTrouble = () => undefined } = order;
  let inHand: Promise<number> = Promise.resolve(0);
  const look = (): Promise<number> => {
    inHand = inHand
      .then(() => lookOnce({ log, timeStamps }, order, now))
      .catch((error: unknown) => {
        onTrouble(error);
        return 0;
      });
    return inHand;
  };
  const timer = setInterval(() => void look(), everyMs);
  timer.unref();
  void look();
  return {
    look,
    close: async () => {
      clearInterval(timer);
      await inHand;
    },
  };
}

/** How long to wait after so many tries without a token. */
function waitAfter(tries: number): number {
  return Math.min(FIRST_WAIT_MS * 2 ** Math.min(tries, 20), LONGEST_WAIT_MS);
}

async function lookOnce(
  { log, timeStamps }: Pick<Catalogue, 'log' | 'timeStamps'>,
  authority: Authority,
  now: () => number,
): Promise<number> {
  const { url } = authority;
  const head = await log.latestCheckpoint();
  if (head !== null && head.size > ((await timeStamps.latestAsked(url)) ?? 0)) {
    await timeStamps.ask({ size: head.size, authority: url, at: now() });
  }
  let got = 0;
  const due = (await timeStamps.due({ at: now(), most: MOST })).filter((one) => one.authority === url);
  for (const { size, tries } of due) {
    const note = (await log.checkpoint(size))?.note ?? '';
    try {
      const token = await askAuthority(authority, note);
      if (await timeStamps.hold({ size, authority: url, token, at: now() })) got += 1;
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      await timeStamps.putOff({ size, authority: url, cause: error.message, nextTryMs: now() + waitAfter(tries) });
      if (error.kind === 'unavailable') break;
    }
  }
  return got;
}
