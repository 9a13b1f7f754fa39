import { describe, expect, it } from 'vitest';
import { projectFiles, textOf } from './project.ts';

describe('files of the product', () => {
  it('have at most 400 lines, whatever language they are in', () => {
    const long = projectFiles('src/')
      .map((path) => ({ path, lines: textOf(path).trimEnd().split('\n').length }))
      .filter(({ lines }) => lines > 400);
    expect(long).toEqual([]);
  });
});
