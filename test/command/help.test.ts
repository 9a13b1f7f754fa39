import { describe, expect, it } from 'vitest';
import { helpLines } from '../../src/command/help.ts';
import { CLIENT_COMMANDS } from '../../src/command/client/client-commands.ts';
import { columnsOf } from '../../src/command/wrap.ts';
import { TOLERANCE_TABLE } from '../../src/model/index.ts';
import { fakeDesk } from './fake-desk.ts';

describe('the help', () => {
  const lines = helpLines(fakeDesk().desk.out, CLIENT_COMMANDS);
  const text = lines.join('\n').replaceAll(/\s+/g, ' ');

  it.each(Object.entries(TOLERANCE_TABLE))('names %s with its default, range and reason', (name, entry) => {
    expect(text).toMatch(
      new RegExp(
        `${name} ${entry.value} (ppi|mm|mm²|%|degrees|lines an inch|CIEDE2000|CIELAB) \\(${entry.least} to ${entry.most}\\)`,
      ),
    );
    expect(text).toContain(entry.reason);
  });

  it.each([
    'compare',
    'page-hashes',
    'scrub',
    '--json',
    '--html',
    '--pdf',
    '--pages',
    '--for',
    '--tolerances',
    '--kept',
    '--workers',
    '--verbose',
  ])('explains %s', (word) => expect(lines.some((line) => line.startsWith(`  ${word} `))).toBe(true));

  it.each([40, 80, 200])('fits a terminal of %d columns', (columns) => {
    const { desk } = fakeDesk({ isTerminal: true, columns, env: { NO_COLOR: '1' } });
    expect(helpLines(desk.out, CLIENT_COMMANDS).filter((line) => columnsOf(line) >= columns)).toEqual([]);
  });
});
