import { describe, expect, it } from 'vitest';
import type { Report, Weight } from '../../../src/model/index.ts';
import { placeWords, printable, verdictSentence } from '../../../src/reporting/index.ts';
import { conversionSentence } from '../../../src/reporting/words/verdict-words.ts';
import { MATCHING_REPORT, SAMPLE_REPORT } from '../sample-book.ts';

function weighing(...weights: readonly Weight[]): Report {
  const [finding] = SAMPLE_REPORT.findings;
  if (finding === undefined) throw new Error('the sample has findings');
  const findings = weights.map((weight, index) => ({ ...finding, weight, id: `${index}` }));
  return { ...SAMPLE_REPORT, findings, verdict: weights.some((weight) => weight !== 'note') ? 'differs' : 'match' };
}

describe('the verdict in one sentence', () => {
  it.each([
    [weighing(), 'The revision matches the dummy within the tolerances.'],
    [weighing('note'), 'The revision matches the dummy within the tolerances. 1 note stands for the record.'],
    [weighing('note', 'note'), 'The revision matches the dummy within the tolerances. 2 notes stand for the record.'],
    [weighing('stop'), 'The revision differs from the dummy: 1 finding stops the plates.'],
    [weighing('look', 'look'), 'The revision differs from the dummy: 2 want a look.'],
    [
      weighing('stop', 'stop', 'look', 'note'),
      'The revision differs from the dummy: 2 findings stop the plates, 1 wants a look and 1 is a note.',
    ],
  ])('%#: %s', (report, sentence) => expect(verdictSentence(report)).toBe(sentence));
});

describe('the size of the conversion', () => {
  it('is told as a range over the pages that were measured', () => {
    expect(conversionSentence(SAMPLE_REPORT)).toBe(
      'After registration the colours of 23 pairs of pages lie 1 to 3.8 apart in the mean (CIEDE2000).',
    );
  });

  it('is not told where nothing was measured', () => expect(conversionSentence(MATCHING_REPORT)).toBeNull());
});

describe('where a finding stands', () => {
  it.each([
    [{ dummyPage: 7, revisionPage: 7 }, 'page 7'],
    [{ dummyPage: 9, revisionPage: 7 }, 'page 7 (dummy page 9)'],
    [{ dummyPage: 9, revisionPage: null }, 'dummy page 9'],
    [{ dummyPage: null, revisionPage: 7 }, 'revision page 7'],
    [{ dummyPage: null, revisionPage: null }, 'the whole file'],
  ])('%j is “%s”', (finding, words) => expect(placeWords(finding)).toBe(words));
});

describe('text from a file or its name', () => {
  it('can neither steer a terminal nor turn the direction of writing', () => {
    expect(printable('a\u001b[31mred\u0007 \u202Efdp.exe\nnext\tword\u0085')).toBe(
      'a[U+001B][31mred[U+0007] [U+202E]fdp.exe next word[U+0085]',
    );
  });

  it('keeps every letter of every script', () => {
    expect(printable('Málaholt – Łódź – Ελλάς – 漢字 – 📷')).toBe('Málaholt – Łódź – Ελλάς – 漢字 – 📷');
  });

  it('spells out half a surrogate', () => expect(printable('x\ud800y')).toBe('x[U+D800]y'));
});
