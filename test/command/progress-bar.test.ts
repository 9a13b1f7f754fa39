import { describe, expect, it } from 'vitest';
import { barLine, progressBar, timeLeft } from '../../src/command/progress-bar.ts';
import { fakeDesk } from './fake-desk.ts';

describe('progress where nobody looks', () => {
  it('is one plain line as each step begins', () => {
    const { desk, err } = fakeDesk();
    const bar = progressBar(desk.err, () => desk.now());
    for (const done of [0, 1, 2]) bar.show({ stage: 'reading', done, total: 2 });
    bar.show({ stage: 'comparing', done: 0, total: 1 });
    bar.clear();
    expect(err()).toBe('reading 2 pages\ncomparing 1 page\n');
  });
});

describe('progress on a terminal', () => {
  it('is redrawn in place, ten times a second at most, and leaves a clean line', () => {
    const { desk, err, pass } = fakeDesk({ isTerminal: true });
    const bar = progressBar(desk.err, () => desk.now());
    for (let done = 0; done < 10; done += 1) {
      bar.show({ stage: 'reading', done, total: 64 });
      pass(30);
    }
    bar.clear();
    bar.clear();
    const drawn = err().split('\r').slice(1);
    expect(drawn).toHaveLength(4);
    expect(drawn.at(-1)).toBe('\u001b[K');
    expect(err()).not.toContain('\n');
  });

  it('shows the last page at once', () => {
    const { desk, err } = fakeDesk({ isTerminal: true });
    const bar = progressBar(desk.err, () => desk.now());
    bar.show({ stage: 'reading', done: 1, total: 2 });
    bar.show({ stage: 'reading', done: 2, total: 2 });
    expect(err()).toContain('2 of 2 pages');
  });
});

describe('the bar', () => {
  it.each([
    [
      { stage: 'drawing', done: 16, total: 64 },
      8000,
      80,
      'drawing    ||||||||........................ 16 of 64 pages, 25 s left',
    ],
    [{ stage: 'drawing', done: 16, total: 64 }, 500, 80, 'drawing    ||||||||........................ 16 of 64 pages'],
    [{ stage: 'drawing', done: 1, total: 64 }, 8000, 80, 'drawing    ................................ 1 of 64 pages'],
    [{ stage: 'comparing', done: 1, total: 1 }, 8000, 80, 'comparing  |||||||||||||||||||||||||||||||| 1 of 1 page'],
    [{ stage: 'drawing', done: 16, total: 64 }, 8000, 50, 'drawing    |||......... 16 of 64 pages, 25 s left'],
    [{ stage: 'drawing', done: 16, total: 64 }, 8000, 40, 'drawing 16 of 64 pages, 25 s left'],
    [{ stage: 'reading', done: 0, total: 0 }, 0, 80, 'reading    |||||||||||||||||||||||||||||||| 0 of 0 pages'],
  ])('%j after %d ms on %d columns', (step, elapsedMs, columns, line) => {
    expect(barLine(step, elapsedMs, columns)).toBe(line);
    expect(line.length).toBeLessThan(columns);
  });

  it.each([
    [400, '1 s'],
    [9000, '9 s'],
    [41_000, '45 s'],
    [89_000, '90 s'],
    [90_000, '2 min'],
    [600_000, '10 min'],
  ])('%d ms are “%s”', (ms, words) => expect(timeLeft(ms)).toBe(words));
});
