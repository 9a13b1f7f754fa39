import { describe, expect, it } from 'vitest';
import { membersOfInterface } from '../../.house/exported.ts';
import { exitOfRefusal } from '../../src/command/exit-status.ts';
import type { RefusalKind } from '../../src/model/index.ts';
import { projectFiles, textOf } from './project.ts';

const kinds = membersOfInterface('src/model/refusal.ts', 'RefusalDetails');
const tests = projectFiles('test/').filter((path) => path.endsWith('.test.ts') && !path.startsWith('test/house/'));

describe('refusals', () => {
  it('are of ten kinds', () => {
    expect(kinds).toEqual([
      'malformed',
      'unidentified',
      'not-allowed',
      'not-found',
      'out-of-step',
      'unsettled',
      'too-large',
      'unreadable',
      'unproven',
      'unavailable',
    ]);
  });

  it('have a line each in DEVELOPERS.md, with the exit status that the command gives', () => {
    const chapter = textOf('DEVELOPERS.md')
      .split('\n## ')
      .find((part) => part.startsWith('Refusals'))!;
    const lines = [...chapter.matchAll(/^\| `([a-z-]+)` \|.*\| (\d) \|$/gm)].map(([, kind, exit]) => [
      kind,
      Number(exit),
    ]);
    const statuses = kinds.map((kind) => [kind, exitOfRefusal(kind as RefusalKind)]);
    expect(lines).toEqual(statuses);
  });

  it.each(kinds)('%s is provoked by a test', (kind) => {
    expect(tests.filter((path) => textOf(path).includes(`'${kind}'`))).not.toEqual([]);
  });

  it.each(kinds)('%s is thrown somewhere, or it is a word for nothing', (kind) => {
    const throwers = projectFiles('src/').filter((path) => textOf(path).includes(`new Refusal('${kind}'`));
    expect(throwers).not.toEqual([]);
  });
});
