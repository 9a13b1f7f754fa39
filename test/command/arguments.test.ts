import { describe, expect, it } from 'vitest';
import { parseTask } from '../../src/command/arguments.ts';

const PLAIN = {
  command: 'compare',
  dummy: 'd.pdf',
  revision: 'r.pdf',
  json: null,
  html: null,
  pdf: null,
  pages: null,
  tolerances: null,
  purpose: 'compare',
  kept: null,
  workers: null,
  imposed: null,
};

describe('a command line', () => {
  it('compares two files', () => expect(parseTask(['compare', 'd.pdf', 'r.pdf'])).toEqual(PLAIN));

  it('takes every option, before the files or after them', () => {
    const line =
      '--json j compare d.pdf --pages 3-17 r.pdf --html h --pdf p --tolerances t --for plates --kept k --workers 3';
    expect(parseTask(line.split(' '))).toEqual({
      ...PLAIN,
      json: 'j',
      html: 'h',
      pdf: 'p',
      pages: { first: 3, last: 17 },
      tolerances: 't',
      purpose: 'plates',
      kept: 'k',
      workers: 3,
    });
  });

  it('takes a file that is named like an option after --', () => {
    expect(parseTask(['compare', '--', '--json', 'r.pdf'])).toEqual({ ...PLAIN, dummy: '--json' });
  });

  it.each([
    ['--imposed', { plan: null, fold: null, bound: 'sewn', working: 'sheetwise', savePlan: null, plates: [] }],
    [
      '--imposed --plan p.json',
      { plan: 'p.json', fold: null, bound: 'sewn', working: 'sheetwise', savePlan: null, plates: [] },
    ],
    [
      '--imposed --fold 16 --bound saddle-stitched --working work-and-turn --save-plan s',
      { plan: null, fold: '16', bound: 'saddle-stitched', working: 'work-and-turn', savePlan: 's', plates: [] },
    ],
  ])('takes sheets, %s', (options, imposed) => {
    expect(parseTask(['compare', 'd.pdf', 'r.pdf', ...options.split(' ')])).toEqual({ ...PLAIN, imposed });
  });

  it.each([
    ['--plan p', '--plan goes with --imposed'],
    ['--imposed --plan p --fold 16', 'either --plan or --fold says how sheets are folded'],
    ['--imposed --bound sewn', '--bound goes with --fold'],
    ['--imposed --working sheetwise', '--working goes with --fold'],
    [
      '--imposed --fold 16 --working twice',
      '--working: one of sheetwise, sheetwise-tumbled, work-and-turn, work-and-tumble expected, twice found',
    ],
    ['--imposed --fold 16 --bound glued', '--bound: one of sewn, perfect-bound, saddle-stitched expected, glued found'],
    ['--imposed --fold 15', '--fold: 4, 8, 12, 16, 24, 32 pages expected, 15 found; other sections by their folds'],
  ])('refuses %s', (options, problem) => {
    expect(parseTask(['compare', 'd.pdf', 'r.pdf', ...options.split(' ')])).toEqual({ command: 'wrong', problem });
  });

  it('takes one page', () => {
    expect(parseTask(['compare', 'd.pdf', 'r.pdf', '--pages', '7'])).toEqual({
      ...PLAIN,
      pages: { first: 7, last: 7 },
    });
  });

  it('prints the hashes of one file', () => {
    expect(parseTask(['page-hashes', 'f.pdf'])).toEqual({ command: 'page-hashes', file: 'f.pdf' });
  });

  it.each([[['--help']], [['-h']], [['help']], [['compare', '--help']]])('%j asks for help', (args) =>
    expect(parseTask(args)).toEqual({ command: 'help' }),
  );
});

describe('a command line that does not fit', () => {
  it.each([
    ['', 'what to do is missing, such as compare'],
    ['--json x contrast a b', 'the command comes first, not “contrast” after options'],
    ['compare a', 'compare needs two files: the dummy and the revision'],
    ['compare a b c', 'compare takes two files; 3 were given'],
    ['compare a b --colour red', "Unknown option '--colour'"],
    ['compare a b --json', "Option '--json <value>' argument missing"],
    ['compare a b --json=', '--json is empty'],
    ['compare a b --pages 0-3', '--pages: FIRST-LAST expected, such as 3-17; 0-3 found'],
    ['compare a b --pages 9-3', '--pages: FIRST-LAST expected, such as 3-17; 9-3 found'],
    ['compare a b --pages all', '--pages: FIRST-LAST expected, such as 3-17; all found'],
    ['compare a b --for print', '--for plates expected, --for print found'],
    ['compare a b --workers 0', '--workers: a number from 1 to 64 expected, 0 found'],
    ['compare a b --workers two', '--workers: a number from 1 to 64 expected, two found'],
    ['page-hashes', 'page-hashes takes one file; 0 were given'],
    ['page-hashes a b', 'page-hashes takes one file; 2 were given'],
    ['page-hashes a --json j', 'page-hashes has no --json'],
    ['serve x', 'serve takes nothing; its settings are variables'],
    ['serve --json j', 'serve has no --json'],
  ])('“%s”: %s', (line, problem) => {
    expect(parseTask(line === '' ? [] : line.split(' '))).toEqual({ command: 'wrong', problem });
  });
});
