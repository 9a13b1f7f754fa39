import { describe, expect, it } from 'vitest';
import type { FindingOf } from '../../../src/model/index.ts';
import type { TypeLine } from '../set-type.ts';
import { toldOfOutlines } from './told-of-outlines.ts';

const SIZE = { width: 70, height: 34 };
const TEXT = ['der alte hafen von riva', 'am abend im september'];
const set = (texts: readonly string[], right = 0, down = 0): TypeLine[] =>
  texts.map((text, at) => ({
    text,
    x: 6 + (at === 1 ? right : 0),
    baseline: 8 + 7 * at + (at === 1 ? down : 0),
  }));

/** Of a page that tells words and one that shows the same in outlines. */
function told(before: readonly TypeLine[], after: readonly TypeLine[], outlined: 'dummy' | 'revision' = 'revision') {
  return toldOfOutlines(SIZE, before, after, outlined) as readonly FindingOf<'text-changed'>[];
}

/** From where to where the one finding says that type went. */
function way([only, ...others]: ReturnType<typeof told>): readonly [number, number] {
  expect(others).toEqual([]);
  expect(only!.says).toMatch(/^Type moved .*: “am abend im september”\.$/);
  expect(only!.measured).toEqual({ before: TEXT[1], after: TEXT[1] });
  const [from, to] = [only!.box!, only!.revisionBox!];
  return [to.x - from.x, to.y - from.y];
}

describe('a line that one page tells and the other shows elsewhere', () => {
  it.each([
    [0, 1],
    [0, -2.3],
    [0.5, 0],
    [-1.9, 0],
  ])('is told with its way, %d mm across and %d mm down', (right, down) => {
    for (const outlined of ['revision', 'dummy'] as const) {
      const [x, y] = way(told(set(TEXT), set(TEXT, right, down), outlined));
      expect(Math.hypot(x - right, y - down)).toBeLessThan(0.08);
    }
  });

  it('is not told at all where it moved by less than the tolerance', () => {
    expect(told(set(TEXT), set(TEXT, 0.2, 0))).toEqual([]);
  });

  it('is told as another line where a letter of it changed on the way', () => {
    const [only, ...others] = told(set(TEXT), set([TEXT[0]!, 'am abend im saptember'], 0, 1));
    expect(others).toEqual([]);
    expect(only!.says).toBe('The type looks different (its shapes): “am abend im september”.');
  });

  it('is told as another line where a word of it is gone and the others moved up', () => {
    const [only, ...others] = told(set(TEXT), set([TEXT[0]!, 'abend im september']));
    expect(others).toEqual([]);
    expect(only!.says).toBe('The type looks different (its shapes): “am abend im september”.');
  });
});
