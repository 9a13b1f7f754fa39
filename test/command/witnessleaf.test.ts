import { execFile, spawn } from 'node:child_process';
import { createWriteStream } from 'node:fs';
import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { finished } from 'node:stream/promises';
import { fileURLToPath } from 'node:url';
import PDFDocument from 'pdfkit';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parseReport } from '../../src/reporting/report-parsing.ts';

const PROGRAM = fileURLToPath(new URL('../../src/command/witnessleaf.ts', import.meta.url));
let folder = '';

/** A book of pages with a line of type each. */
async function bind(name: string, lines: readonly string[]): Promise<void> {
  const book = new PDFDocument({ size: [400, 500], margin: 60, info: { CreationDate: new Date(0) } });
  const file = book.pipe(createWriteStream(join(folder, name)));
  lines.forEach((line, index) => {
    if (index > 0) book.addPage();
    book.fontSize(24).text(line);
  });
  book.end();
  await finished(file);
}

interface Ran {
  readonly exit: number | string;
  readonly out: string;
  readonly err: string;
}

/** Runs the program as npm does: in the project's folder, told by INIT_CWD where the person stands. */
function run(args: readonly string[], nodeOptions: readonly string[] = []): Promise<Ran> {
  const env = { ...process.env, INIT_CWD: folder, TMPDIR: join(folder, 'scratch') };
  return new Promise((resolve) => {
    execFile(process.execPath, [...nodeOptions, PROGRAM, ...args], { env }, (error, out, err) => {
      resolve({ exit: error === null ? 0 : (error.code ?? 'signal'), out, err });
    });
  });
}

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'witnessleaf-command-'));
  await mkdir(join(folder, 'scratch'));
  const words = ['harbour', 'winter', 'lantern', 'thistle'];
  await bind('dummy.pdf', words);
  await bind('same.pdf', words);
  await bind('revision.pdf', ['harbour', 'thistle', 'winter', 'lantern']);
  await bind(
    'long.pdf',
    Array.from({ length: 300 }, (_, page) => `page ${page} of a long book`),
  );
  await writeFile(join(folder, 'letter.txt'), 'Dear printer, …');
});
afterAll(() => rm(folder, { recursive: true }));

describe('the program', () => {
  it('ends with 0 where the files match', async () => {
    expect(await run(['compare', 'dummy.pdf', 'same.pdf'])).toMatchObject({
      exit: 0,
      out: 'The revision matches the dummy within the tolerances.\n',
    });
  });

  it('ends with 1 where a page was carried elsewhere, and writes it down', async () => {
    const { exit, out } = await run(['compare', 'dummy.pdf', 'revision.pdf', '--json', 'report.json']);
    expect({ exit, kinds: out.split('\n').map((line) => line.split('\t')[2]) }).toMatchObject({
      exit: 1,
      kinds: ['page-moved', undefined, undefined, undefined],
    });
    const report = parseReport(await readFile(join(folder, 'report.json'), 'utf8'));
    expect(report.findings.map(({ kind, dummyPage, revisionPage }) => [kind, dummyPage, revisionPage])).toEqual([
      ['page-moved', 4, 2],
    ]);
  });

  it('ends with 2 and one line where a file is no PDF', async () => {
    const { exit, out, err } = await run(['compare', 'dummy.pdf', 'letter.txt']);
    expect({ exit, out }).toEqual({ exit: 2, out: '' });
    expect(err.split('\n').filter((line) => line.startsWith('witnessleaf: '))).toHaveLength(1);
    expect(err).toContain('letter.txt');
    expect(err).not.toMatch(/\n\s+at /);
  });

  it('ends with 2 and a hint where it is not told what to do', async () => {
    expect(await run([])).toEqual({
      exit: 2,
      out: '',
      err: 'witnessleaf: what to do is missing, such as compare (--help shows how)\n',
    });
  });

  it('prints the page hashes, equal for equal pages', async () => {
    const [one, other] = await Promise.all([run(['page-hashes', 'dummy.pdf']), run(['page-hashes', 'same.pdf'])]);
    expect(one.exit).toBe(0);
    expect(one.out).toMatch(/^(\d+\t[0-9a-f]{64}\t141\.11 x 176\.39 mm\n){4}$/);
    expect(other.out).toBe(one.out);
  });

  it('says in one line that an old Node will not do', async () => {
    const older = "Object.defineProperty(process, 'versions', { value: { ...process.versions, node: '22.20.0' } })";
    const { exit, out, err } = await run(['--help'], ['--import', `data:text/javascript,${encodeURIComponent(older)}`]);
    expect({ exit, out }).toEqual({ exit: 2, out: '' });
    expect(err).toMatch(/^witnessleaf: Node 24 or later is needed, this is 22\.20\.0;[^\n]*\n$/);
  });

  it('ends with 2 and one line when something breaks that nobody waited for', async () => {
    const breaking = "setTimeout(() => { throw new RangeError('a worker spoke out of turn'); }, 300)";
    const importing = ['--import', `data:text/javascript,${encodeURIComponent(breaking)}`];
    const { exit, err } = await run(['compare', 'dummy.pdf', 'long.pdf', '--workers', '1'], importing);
    expect(exit).toBe(2);
    expect(err).toContain('witnessleaf: a fault in the program itself: a worker spoke out of turn');
    expect(err).not.toMatch(/\n\s+at /);
  });

  it('does not mind that nobody reads on', async () => {
    const program = spawn(process.execPath, [PROGRAM, '--help'], { stdio: ['ignore', 'pipe', 'pipe'] });
    program.stdout.destroy();
    let err = '';
    program.stderr.on('data', (chunk: Buffer) => (err += chunk.toString()));
    const exit = await new Promise((resolve) => program.on('close', resolve));
    expect({ exit, err }).toEqual({ exit: 0, err: '' });
  });
});

describe.skipIf(process.platform === 'win32')('the program, stopped', () => {
  it.each([
    ['SIGINT', 130],
    ['SIGTERM', 143],
    ['SIGHUP', 129],
  ] as const)('by %s ends with %d, without a word and with nothing left behind', async (signal, status) => {
    const env = { ...process.env, INIT_CWD: folder, TMPDIR: join(folder, 'scratch') };
    const args = [PROGRAM, 'compare', 'dummy.pdf', 'long.pdf', '--json', 'stopped.json', '--workers', '1'];
    const program = spawn(process.execPath, args, { env, stdio: ['ignore', 'ignore', 'pipe'] });
    let err = '';
    program.stderr.on('data', (chunk: Buffer) => {
      err += chunk.toString();
      if (err.includes('reading')) program.kill(signal);
    });
    const exit = await new Promise((resolve) => program.on('exit', (code, by) => resolve(code ?? by)));
    expect(exit).toBe(status);
    expect(err).not.toContain('witnessleaf:');
    expect(await readdir(join(folder, 'scratch'))).toEqual([]);
    expect(await readdir(folder)).not.toContain('stopped.json');
  });
});
