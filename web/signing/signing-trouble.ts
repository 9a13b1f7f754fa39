import type { Check } from '../../src/model/index.ts';

/** The draft is not what was meant: nothing was signed. */
export class DraftTrouble extends Error {
  override readonly name = 'DraftTrouble';
  readonly checks: readonly Check[];

  constructor(checks: readonly Check[]) {
    super('the draft is not what was meant');
    this.checks = checks;
  }
}

/** The archive shows another history than before: nothing was signed, and both heads are proof of it. */
export class SplitTrouble extends Error {
  override readonly name = 'SplitTrouble';
  readonly how: 'shrunk' | 'rewritten' | 'unproven';
  readonly before: string;
  readonly now: string;

  constructor(how: SplitTrouble['how'], before: string, now: string) {
    super(`the log is ${how}`);
    this.how = how;
    this.before = before;
    this.now = now;
  }
}
