import { describe, expect, it } from 'vitest';
import { openActivity } from '../../../src/archive/index.ts';
import type { NewsToTell } from '../../../src/archive/index.ts';

const read = (pages: number): NewsToTell => ({
  ...{ titleId: 't', partId: 'p', fileId: 'f', what: 'read', data: { pages, unreadable: 0 } },
});

describe('news', () => {
  it('are told to whoever listens, until they stop, with numbers that rise from the clock', () => {
    const activity = openActivity({ now: () => 1000, keep: 10 });
    const heard: number[] = [];
    const stop = activity.listen(({ number }) => heard.push(number));
    activity.tell(read(1));
    activity.tell(read(2));
    stop();
    activity.tell(read(3));
    expect([heard, activity.latest()]).toEqual([[1001, 1002], 1003]);
  });

  it('are taken up again after a number, as long as nothing since is forgotten', () => {
    const activity = openActivity({ now: () => 1000, keep: 2 });
    expect(activity.since(1000)).toEqual([]);
    for (const pages of [1, 2, 3]) activity.tell(read(pages));
    expect(activity.since(1001)?.map(({ data }) => data)).toEqual([
      { pages: 2, unreadable: 0 },
      { pages: 3, unreadable: 0 },
    ]);
    expect(activity.since(1003)).toEqual([]);
    expect([activity.since(1000), activity.since(7), activity.since(9999)]).toEqual([null, null, null]);
  });

  it('of an earlier run of the program are never mistaken for those of this one', () => {
    const before = openActivity({ now: () => 1000, keep: 10 });
    before.tell(read(1));
    const after = openActivity({ now: () => 2000, keep: 10 });
    after.tell(read(2));
    expect(after.since(before.latest())).toBeNull();
  });

  it('of first findings are told again to whoever comes later, until their comparison ends or fails', () => {
    const activity = openActivity({ now: () => 1000, keep: 20 });
    const about = (fileId: string) => ({ titleId: 't', partId: 'p', fileId });
    const find = (fileId: string, says: string): void => {
      const finding = { kind: 'picture-missing', weight: 'stop', dummyPage: 1, revisionPage: 1, says } as const;
      activity.tell({ ...about(fileId), what: 'findings', data: { dummyId: 'd', findings: [finding] } });
    };
    const told = (): readonly string[] =>
      activity.foundSoFar('t').flatMap(({ data }) => data.findings.map(({ says }) => says));
    find('a', 'a1');
    find('b', 'b1');
    find('a', 'a2');
    expect([told(), activity.foundSoFar('another')]).toEqual([['a1', 'b1', 'a2'], []]);
    const weights = { stop: 1, look: 0, note: 0 };
    activity.tell({
      ...about('a'),
      what: 'compared',
      data: { dummyId: 'd', reportId: 'r', verdict: 'differs', weights },
    });
    expect(told()).toEqual(['b1']);
    activity.tell({ ...about('b'), what: 'stumbled', data: { job: 'compare', cause: 'a disk', isLast: false } });
    find('b', 'again');
    expect(told()).toEqual(['again']);
  });
});
