import type { Blobs } from './blobs/index.ts';

/** Blobs that were lent and are held a while, so that a file is not checked again for each of its pages. */
export interface HeldLoans {
  /** As `Blobs.lend`; the path is good while `use` runs. */
  lend<T>(sha256: string, use: (path: string) => Promise<T>): Promise<T>;
  /** Gives everything back. */
  close(): void;
}

interface Loan {
  readonly path: Promise<string>;
  readonly giveBack: () => void;
  users: number;
  timer: NodeJS.Timeout | null;
}

/** Holds each loan until it was not used for `holdMs`. */
export function holdLoans(blobs: Pick<Blobs, 'lend'>, holdMs: number): HeldLoans {
  const loans = new Map<string, Loan>();
  const open = (sha256: string): Loan => {
    let giveBack: () => void = () => undefined;
    const held = new Promise<void>((done) => (giveBack = done));
    const path = new Promise<string>((known, refused) => {
      blobs
        .lend(sha256, async (lent) => {
          known(lent);
          await held;
        })
        .catch((error: unknown) => {
          loans.delete(sha256);
          refused(error instanceof Error ? error : new Error(String(error)));
        });
    });
    const loan: Loan = { path, giveBack, users: 0, timer: null };
    loans.set(sha256, loan);
    return loan;
  };
  const end = (sha256: string, loan: Loan): void => {
    if (loans.get(sha256) === loan) loans.delete(sha256);
    loan.giveBack();
  };
  return {
    async lend(sha256, use) {
      const loan = loans.get(sha256) ?? open(sha256);
      if (loan.timer !== null) clearTimeout(loan.timer);
      loan.users += 1;
      try {
        return await use(await loan.path);
      } finally {
        loan.users -= 1;
        if (loan.users === 0) {
          loan.timer = setTimeout(() => end(sha256, loan), holdMs);
          loan.timer.unref();
        }
      }
    },
    close() {
      for (const [sha256, loan] of loans) {
        if (loan.timer !== null) clearTimeout(loan.timer);
        end(sha256, loan);
      }
    },
  };
}
