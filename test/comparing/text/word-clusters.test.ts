import { describe, expect, it } from 'vitest';
import { boxAround, clusterWords } from '../../../src/comparing/text/word-clusters.ts';
import type { Word } from '../../../src/model/index.ts';
import { setLine } from '../set-type.ts';

const line = (text: string, x: number, baseline: number) => setLine({ text, x, baseline }).words;
const told = (words: readonly Word[]) => words.map(({ text }) => text).join(' ');
const clusters = (dummy: readonly Word[], revision: readonly Word[]) =>
  clusterWords(dummy, revision).map((cluster) => [told(cluster.dummy), told(cluster.revision)]);

describe('changed words are gathered into places', () => {
  it('along a line', () => {
    expect(clusters(line('am alten hafen', 10, 20), [])).toEqual([['am alten hafen', '']]);
  });

  it('over neighbouring lines', () => {
    expect(clusters([...line('am alten', 10, 20), ...line('hafen', 10, 25)], [])).toEqual([['am alten hafen', '']]);
  });

  it('whichever file they come from', () => {
    expect(clusters(line('alten', 10, 20), line('alter', 10, 20))).toEqual([['alten', 'alter']]);
  });

  it('by chains: the first and the last need not touch', () => {
    const [first, second, third] = [line('am', 10, 20), line('alten', 15.5, 20), line('hafen', 28, 20)];
    expect(clusters([...first, ...third], second)).toEqual([['am hafen', 'alten']]);
  });

  it('but not across a column or an empty line', () => {
    expect(clusters([...line('links', 10, 20), ...line('rechts', 40, 20)], line('unten', 10, 34))).toEqual([
      ['links', ''],
      ['rechts', ''],
      ['', 'unten'],
    ]);
  });

  it('of which there are none where nothing changed', () => {
    expect(clusters([], [])).toEqual([]);
  });
});

describe('the box around words', () => {
  it('holds them all', () => {
    const words = [...line('am', 10, 20), ...line('hafen', 30, 40)];
    const box = boxAround(words)!;
    expect([box.x, box.y]).toEqual([10, words[0]!.box.y]);
    expect(box.x + box.width).toBeCloseTo(words[1]!.box.x + words[1]!.box.width, 9);
    expect(box.y + box.height).toBeCloseTo(words[1]!.box.y + words[1]!.box.height, 9);
  });

  it('is none where there are no words', () => expect(boxAround([])).toBeNull());
});
