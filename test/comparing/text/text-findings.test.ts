import { describe, expect, it } from 'vitest';
import {
  meanShift,
  quoteWords,
  sayLooksDifferent,
  sayReworded,
  sayWordsMoved,
} from '../../../src/comparing/text/text-findings.ts';
import { boxAround } from '../../../src/comparing/text/word-clusters.ts';
import { setLine } from '../set-type.ts';

const about = { dummyPage: 3, revisionPage: 5 };
const line = (text: string, x = 10, baseline = 20) => setLine({ text, x, baseline }).words;
const NEAR = { x: 1, y: 2, width: 3, height: 4 };

describe('a finding about text', () => {
  it('for words that read otherwise quotes both, and has both places', () => {
    const [before, after] = [line('am alten hafen'), line('am neuen hafen', 12)];
    expect(sayReworded(about, before, after, NEAR)).toEqual({
      kind: 'text-changed',
      weight: 'stop',
      ...about,
      box: boxAround(before),
      revisionBox: boxAround(after),
      measured: { before: 'am alten hafen', after: 'am neuen hafen' },
      says: '“am alten hafen” now reads “am neuen hafen”.',
    });
  });

  it('for words that are gone or new points at the place where they belong', () => {
    const gone = sayReworded(about, line('riva'), [], NEAR);
    expect([gone.says, gone.box, gone.revisionBox]).toEqual(['Words are gone: “riva”.', boxAround(line('riva')), NEAR]);
    const come = sayReworded(about, [], line('riva'), NEAR);
    expect([come.says, come.box, come.revisionBox]).toEqual(['New words: “riva”.', NEAR, boxAround(line('riva'))]);
  });

  it('for words that moved tells how far and where to', () => {
    const [before, after] = [line('am hafen'), line('am hafen', 9, 22.5)];
    const finding = sayWordsMoved(about, before, after);
    expect(finding).toMatchObject({ box: boxAround(before), revisionBox: boxAround(after) });
    expect(finding.measured).toEqual({ before: 'am hafen', after: 'am hafen' });
    expect(finding.says).toBe('Type moved 1.0 mm to the left and 2.5 mm down: “am hafen”.');
  });

  it('for words that look otherwise says in what', () => {
    const finding = sayLooksDifferent(about, line('am hafen'), line('am hafen'), 'Serif became Sans');
    expect(finding.says).toBe('The type looks different (Serif became Sans): “am hafen”.');
    expect(finding.measured).toEqual({ before: 'am hafen', after: 'am hafen' });
    const onlyRevision = sayLooksDifferent(about, [], line('am hafen'), 'its shapes');
    expect(onlyRevision).toMatchObject({
      box: boxAround(line('am hafen')),
      measured: { before: '', after: 'am hafen' },
      says: 'The type looks different (its shapes): “am hafen”.',
    });
  });

  it('cuts a long quotation short in the middle, and keeps it whole in what is measured', () => {
    const text = Array.from({ length: 30 }, (_, at) => `wort${at}`).join(' ');
    const finding = sayReworded(about, line(text), [], NEAR);
    expect(finding.says).toMatch(/^Words are gone: “wort0 wort1 .* … .* wort28 wort29”\.$/);
    const [, quoted] = /“(.*)”/.exec(finding.says)!;
    expect(quoted!.length).toBeGreaterThan(80);
    expect(quoted!.length).toBeLessThanOrEqual(90);
    expect(finding.measured.before).toBe(text);
  });
});

describe('how far words moved', () => {
  it('is the mean over all of them', () => {
    const [before, after] = [
      line('a b'),
      line('a b', 11, 20).map((word, at) => ({ ...word, origin: { x: word.origin.x + at, y: 20 } })),
    ];
    expect(meanShift(before, after)).toEqual({ x: 1.5, y: 0 });
  });

  it('is nothing for none', () => expect(meanShift([], [])).toEqual({ x: 0, y: 0 }));

  it('wording is quoted with single spaces', () => expect(quoteWords(line('am alten hafen'))).toBe('am alten hafen'));
});
