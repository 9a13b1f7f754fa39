import { mkdir, mkdtemp, readdir, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CheckRequest } from '../../src/archive/index.ts';
import { runCommand } from '../../src/command/run-command.ts';
import type { Checking } from '../../src/command/compare.ts';
import { namesApart } from '../../src/command/user-files.ts';
import { DEFAULT_LIMITS, DEFAULT_TOLERANCES, Refusal } from '../../src/model/index.ts';
import type { Report } from '../../src/model/index.ts';
import { formatReport } from '../../src/reporting/index.ts';
import { drawSamplePage, MATCHING_REPORT, SAMPLE_REPORT } from '../reporting/sample-book.ts';
import { fakeDesk, fakeRunning } from './fake-desk.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'compare-'));
  for (const name of ['d.pdf', 'r.pdf']) await writeFile(join(folder, name), '%PDF-1.7 somebody’s book');
});
afterAll(() => rm(folder, { recursive: true }));

const few: Report = {
  ...SAMPLE_REPORT,
  pages: SAMPLE_REPORT.pages.slice(3, 4),
  findings: SAMPLE_REPORT.findings.slice(13, 14),
};

interface Ran {
  readonly exit: number;
  readonly out: string;
  readonly err: string;
  readonly requests: readonly CheckRequest[];
  /** How often the check was closed. */
  readonly closed: number;
}

interface Wanted {
  readonly report?: Report;
  readonly fails?: unknown;
  readonly verbose?: boolean;
  readonly isTerminal?: boolean;
  readonly env?: Readonly<Record<string, string>>;
}

async function run(line: string, { report = few, fails, ...wanted }: Wanted = {}): Promise<Ran> {
  const { desk, out, err } = fakeDesk({ folder, ...wanted });
  const requests: CheckRequest[] = [];
  let closed = 0;
  const checking: Checking = (request) => {
    requests.push(request);
    // Whatever a room may throw is thrown here.
    // eslint-disable-next-line @typescript-eslint/prefer-promise-reject-errors
    if (fails !== undefined) return Promise.reject(fails);
    request.onProgress?.({ stage: 'reading', done: 2, total: 2 });
    return Promise.resolve({
      report,
      drawPage: drawSamplePage,
      close: () => {
        closed += 1;
        return Promise.resolve();
      },
    });
  };
  const exit = await runCommand(line.split(' '), fakeRunning(desk, { checking }));
  return { exit, out: out(), err: err(), requests, closed };
}

describe('compare', () => {
  it('ends with 1 where the revision differs, and says what in plain lines', async () => {
    expect(await run('compare d.pdf r.pdf')).toMatchObject({
      exit: 1,
      out:
        'stop\tpage 4\tcrop-altered\tThe content slipped 2.4 mm to the left in its window: ' +
        '2.4 mm are lost at the left, 2.4 mm more show at the right.\n' +
        'The revision differs from the dummy: 1 finding stops the plates.\n',
      err: 'reading 2 pages\n',
      closed: 1,
    });
  });

  it('ends with 0 where it matches, with one line', async () => {
    expect(await run('compare d.pdf r.pdf', { report: MATCHING_REPORT })).toMatchObject({
      exit: 0,
      out: 'The revision matches the dummy within the tolerances.\n',
      closed: 1,
    });
  });

  it('hands everything on as it was asked for, paths from where the person stands', async () => {
    await writeFile(join(folder, 'wide.json'), '{"cropMm": 2}');
    const line = 'compare d.pdf r.pdf --for plates --pages 3-17 --tolerances wide.json --kept kept --workers 3';
    const { requests } = await run(line, { env: { INIT_CWD: folder } });
    const [{ onProgress, ...request }] = requests as [CheckRequest];
    expect(onProgress).toBeTypeOf('function');
    expect(request).toEqual({
      dummyPath: join(folder, 'd.pdf'),
      revisionPath: join(folder, 'r.pdf'),
      tolerances: { ...DEFAULT_TOLERANCES, cropMm: 2 },
      limits: DEFAULT_LIMITS,
      purpose: 'plates',
      pages: { first: 3, last: 17 },
      keptFolder: join(folder, 'kept'),
      workers: 3,
    });
  });

  it('writes all three reports, says where, and asks to replace only its own', async () => {
    const line = 'compare d.pdf r.pdf --json o.json --html o --pdf o.pdf';
    const first = await run(line);
    expect(first).toMatchObject({ exit: 1, err: 'reading 2 pages\nreporting 1 page\n' });
    expect(first.out.split('\n').slice(1, 4)).toEqual([
      'Report for programs: o.json',
      `Report to look at: ${join('o', 'index.html')}`,
      'Report to print: o.pdf',
    ]);
    expect(await readFile(join(folder, 'o.json'), 'utf8')).toBe(formatReport(few));
    expect((await readFile(join(folder, 'o.pdf'), 'latin1')).slice(0, 5)).toBe('%PDF-');
    expect(await readdir(join(folder, 'o'))).toContain('index.html');
    expect((await run(line)).exit).toBe(1);
  });

  it('shows a bar and a table on a terminal, and nothing of either in colour where NO_COLOR is set', async () => {
    const { out, err } = await run('compare d.pdf r.pdf', { isTerminal: true, env: { NO_COLOR: '' } });
    expect(err).toMatch(/^\rreading {4}\|{32} 2 of 2 pages/);
    expect(out).toContain('\u001b[1mCrop altered\u001b[0m');
    const plain = await run('compare d.pdf r.pdf', { isTerminal: true, env: { NO_COLOR: '1' } });
    expect(plain.out).not.toContain('\u001b');
    expect(plain.out).toMatch(/\n {2}stop {2}page 4 {2}Crop altered\n/);
  });
});

describe('compare refuses before the work, with one line, and touches nothing', () => {
  const CASES: readonly (readonly [string, string, string])[] = [
    [
      'to write over the dummy',
      '--pdf d.pdf',
      'd.pdf: a new file or an earlier report expected, d.pdf, which is compared found',
    ],
    [
      'to write over the revision by another name',
      '--json link.json',
      'link.json: a new file or an earlier report expected, link.json, which is compared found',
    ],
    [
      'to write over somebody’s PDF',
      '--pdf theirs.pdf',
      'theirs.pdf: a new file or an earlier report expected, another file found',
    ],
    [
      'to write over another file',
      '--json notes.txt',
      'notes.txt: a new file or an earlier report expected, another file found',
    ],
    ['to write a file over a folder', '--pdf full', 'full: a new file or an earlier report expected, a folder found'],
    [
      'a folder with other contents',
      '--html full',
      'full: a new or empty folder or an earlier report expected, a folder with other contents found',
    ],
    ['a target in a folder that does not exist', '--json nowhere/o.json', 'folder nowhere: not found'],
    ['tolerances that are no JSON', '--tolerances notes.txt', 'notes.txt: JSON expected, something else found'],
    ['tolerances that do not exist', '--tolerances none.json', 'none.json: not found'],
    ['a tolerance that does not exist', '--tolerances unknown.json', 'unknown.json: tolerances/colour: one of '],
    [
      'a tolerance out of its range',
      '--tolerances far.json',
      'far.json: tolerances/cropMm: a number from 0.05 to 20 expected, 99 found',
    ],
  ];

  beforeAll(async () => {
    await mkdir(join(folder, 'full'));
    await symlink(join(folder, 'r.pdf'), join(folder, 'link.json'));
    const files = {
      'notes.txt': 'mine',
      'theirs.pdf': '%PDF-1.7 theirs',
      'full/mine.txt': 'mine',
      'unknown.json': '{"colour":1}',
      'far.json': '{"cropMm":99}',
    };
    for (const [path, text] of Object.entries(files)) await writeFile(join(folder, path), text);
  });

  it.each(CASES)('%s', async (_, option, line) => {
    const { exit, out, err, requests } = await run(`compare d.pdf r.pdf ${option}`);
    const told = err.replaceAll(`${folder}/`, '');
    expect({ exit, out, requests }).toEqual({ exit: 2, out: '', requests: [] });
    expect(told).toMatch(/^witnessleaf: [^\n]*\n$/);
    expect(told.slice('witnessleaf: '.length)).toContain(line);
    expect(await readFile(join(folder, 'notes.txt'), 'utf8')).toBe('mine');
  });
});

describe('a comparison that cannot be made', () => {
  it.each([
    [
      new Refusal('unreadable', { file: 'd.pdf', page: 7, reason: 'it is encrypted' }),
      'd.pdf: page 7: it is encrypted',
    ],
    [new Refusal('not-found', { what: 'r.pdf' }), 'r.pdf: not found'],
    [
      new Refusal('too-large', { what: 'pages', limit: 5000, found: 10_000, unit: 'pages' }),
      'pages: at most 5000 pages allowed, 10000 pages found',
    ],
    [new Refusal('unavailable', { what: 'a worker', reason: 'it died' }), 'a worker: it died'],
    [Object.assign(new Error('x'), { code: 'ENOSPC', path: '/o.json' }), '/o.json: the disk is full'],
    [
      new TypeError('x is not a function'),
      'a fault in the program itself: x is not a function (--verbose shows where)',
    ],
    [
      'nothing that should be thrown',
      'a fault in the program itself: nothing that should be thrown (--verbose shows where)',
    ],
    [new Refusal('unreadable', { file: 'a\u001b[2J\nb.pdf', reason: 'no PDF' }), 'a[U+001B][2J b.pdf: no PDF'],
  ])('ends with 2 and one line, never a trace: %s', async (fails, line) => {
    expect(await run('compare d.pdf r.pdf', { fails })).toMatchObject({
      exit: 2,
      out: '',
      err: `witnessleaf: ${line}\n`,
    });
  });

  it('shows the trace and its causes to those who ask', async () => {
    const fails = new Refusal('unavailable', { what: 'a worker', reason: 'it died' }, new Error('segfault'));
    const { exit, err } = await run('compare d.pdf r.pdf --verbose', { fails, verbose: true });
    expect(exit).toBe(2);
    expect(err).toMatch(/^witnessleaf: a worker: it died\nRefusal: .*\n {4}at [^]*caused by: Error: segfault\n/);
  });

  it('closes the check when a report cannot be written', async () => {
    const broken = await run('compare d.pdf r.pdf --pdf o2.pdf', {
      report: { ...few, findings: [{ ...few.findings[0], measured: null } as never] },
    });
    expect(broken).toMatchObject({ exit: 2, closed: 1 });
    expect(await readdir(folder)).not.toContain('o2.pdf');
  });
});

describe('a command line that does not fit', () => {
  it('ends with 2, one line and a hint', async () => {
    expect(await run('compare d.pdf')).toMatchObject({
      exit: 2,
      out: '',
      err: 'witnessleaf: compare needs two files: the dummy and the revision (--help shows how)\n',
    });
  });
});

describe('the names of the files in a report', () => {
  it.each([
    ['/a/dummy.pdf', '/b/final.pdf', 'dummy.pdf', 'final.pdf'],
    ['/a/one/book.pdf', '/a/two/book.pdf', 'one/book.pdf', 'two/book.pdf'],
    ['/a/x/in/book.pdf', '/a/y/in/book.pdf', 'x/in/book.pdf', 'y/in/book.pdf'],
    ['/a/book.pdf', '/a/book.pdf', 'book.pdf', 'book.pdf'],
  ])('%s and %s tell them apart and no more', (dummy, revision, one, other) => {
    expect(namesApart({ dummy, revision })).toEqual({ dummy: one, revision: other });
  });
});
