import { describe, expect, it } from 'vitest';
import { EXIT, EXIT_OF_SIGNAL, exitOfRefusal } from '../../src/command/exit-status.ts';
import { membersOfInterface } from '../../.house/exported.ts';

describe('exit status', () => {
  it('is what diff gives: 0 the same, 1 different, 2 trouble', () => {
    expect(EXIT).toEqual({ matches: 0, differs: 1, failed: 2 });
  });

  it.each(membersOfInterface('src/model/refusal.ts', 'RefusalDetails'))(
    'is 2 for %s, or 1 where what was looked at is in order or is not',
    (kind) => {
      const answers = ['unproven', 'unsettled'];
      expect(exitOfRefusal(kind as Parameters<typeof exitOfRefusal>[0])).toBe(answers.includes(kind) ? 1 : 2);
    },
  );

  it('is 128 and the number of the signal that ended the run', () => {
    expect(EXIT_OF_SIGNAL).toEqual({ SIGHUP: 128 + 1, SIGINT: 128 + 2, SIGTERM: 128 + 15 });
  });
});
