import { describe, expect, it } from 'vitest';
import { DEFAULT_TOLERANCES, parseTolerances, TOLERANCE_TABLE } from '../../src/model/index.ts';
import { projectFiles, textOf } from './project.ts';

const entries = Object.entries(TOLERANCE_TABLE);
const askers = [...projectFiles('src/comparing/'), ...projectFiles('src/plates/'), ...projectFiles('src/archive/')];

describe('tolerances', () => {
  it.each(entries)('%s has its unit in its name, and a reason', (name, { reason }) => {
    expect(name).toMatch(/(Mm|Mm2|Pt|Ppi|Lpi|Deg|Percent|DeltaE)$/);
    expect(reason.split(' ').length).toBeGreaterThan(4);
  });

  it.each(entries)('%s is asked by the comparison', (name) => {
    const asked = new RegExp(`[.{,]\\s*${name}\\b`);
    expect(askers.filter((path) => asked.test(textOf(path)))).not.toEqual([]);
  });

  it.each(entries)('%s has a default within its range, and may be set to either end of it', (name, entry) => {
    expect(entry.least).toBeLessThan(entry.value);
    expect(entry.value).toBeLessThan(entry.most);
    for (const value of [entry.least, entry.most]) {
      expect(parseTolerances({ [name]: value })).toEqual({ ...DEFAULT_TOLERANCES, [name]: value });
    }
  });
});
