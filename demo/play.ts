/**
 * `npm run demo`: makes the demonstration book, its final and the revisions with planted faults, holds each against the
 * signed dummy with the program itself, and says where the reports lie. Exit status 1 where the clean final does not
 * match or a planted revision does.
 */
import { spawn } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';
import { parseReport } from '../src/reporting/report-parsing.ts';
import type { MadeFile } from './book/make.ts';
import { makeDummy, makeFinal, makeRevision, REVISION_NAMES } from './book/make.ts';

const PROJECT = join(import.meta.dirname, '..');
const FOLDER = join(PROJECT, '.out', 'demo');
const EXIT = { matches: 0, differs: 1 } as const;

const begun = performance.now();
const wrong: string[] = [];
const shown = (path: string): string => relative(PROJECT, path);
const reportsOf = (name: string) => ({
  html: join(FOLDER, 'reports', name),
  pdf: join(FOLDER, 'reports', `${name}.pdf`),
  json: join(FOLDER, 'reports', `${name}.json`),
});

// Facts serve the revisions of one run; what an earlier state of the program found is not shown as today's.
rmSync(join(FOLDER, 'kept-facts'), { recursive: true, force: true });
mkdirSync(join(FOLDER, 'reports'), { recursive: true });
console.log('“A Winter’s Round”, a photo book of 32 pages: the dummy that was signed, and what came later.');
console.log('The first time, its photographs are prepared for print, which takes a minute.\n');
const dummy = await make('the dummy, RGB at 100 ppi', makeDummy(FOLDER));
await hold('final', await make('the final, process inks at 300 ppi', makeFinal(FOLDER)));
for (const name of REVISION_NAMES) await hold(name, await make(`revision “${name}”`, makeRevision(FOLDER, name)));

heading('Where to look');
for (const name of ['final', ...REVISION_NAMES]) console.log(shown(join(reportsOf(name).html, 'index.html')));
console.log(`To print, and for programs: the files of the same names in ${shown(join(FOLDER, 'reports'))}/.`);
console.log(`Compare any two of the books yourself, for example:`);
console.log(`  npm run -s witnessleaf -- compare ${shown(dummy.path)} ${shown(join(FOLDER, 'final.pdf'))}`);
console.log(`\nAll of it took ${Math.round((performance.now() - begun) / 1000)} s.`);
wrong.forEach((line) => console.error(`demo: ${line}`));
process.exitCode = wrong.length > 0 ? 1 : 0;

async function make(what: string, making: Promise<MadeFile>): Promise<MadeFile> {
  const made = await making;
  console.log(`Made: ${what} (${shown(made.path)}, ${(statSync(made.path).size / 1e6).toFixed(1)} MB)`);
  return made;
}

/** Compares a file with the dummy and tells what was planted beside what was found. */
async function hold(name: string, file: MadeFile): Promise<void> {
  const clean = file.planted.length === 0;
  heading(clean ? 'The final: nothing was changed' : `Revision “${name}”`);
  if (!clean) console.log(['Planted:', ...file.planted.map((line) => `  ${line}`), ''].join('\n'));
  const status = await compare(name, file);
  const expected = clean ? EXIT.matches : EXIT.differs;
  if (status !== expected) {
    const came = { [EXIT.matches]: 'it matches', [EXIT.differs]: 'it differs' }[status ?? -1] ?? `status ${status}`;
    wrong.push(`${name}: ${clean ? 'a match' : 'a difference'} was expected, but ${came}`);
    return;
  }
  const { findings } = parseReport(readFileSync(reportsOf(name).json, 'utf8'));
  console.log(
    clean ? 'As it should be.' : `As it should be: ${file.planted.length} planted, ${findings.length} reported.`,
  );
}

function compare(name: string, file: MadeFile): Promise<number | null> {
  const { html, pdf, json } = reportsOf(name);
  const reports = ['--json', json, '--html', html, '--pdf', pdf].map((part) =>
    part.startsWith('--') ? part : shown(part),
  );
  const call = [
    'compare',
    shown(dummy.path),
    shown(file.path),
    ...reports,
    '--kept',
    shown(join(FOLDER, 'kept-facts')),
  ];
  const run = spawn(process.execPath, [join('src', 'command', 'witnessleaf.ts'), ...call], {
    cwd: PROJECT,
    // npm says where the person stood; the paths here start from the project.
    env: { ...process.env, INIT_CWD: PROJECT },
    stdio: 'inherit',
  });
  return new Promise((done, fail) => run.on('error', fail).on('close', done));
}

function heading(text: string): void {
  console.log(`\n${text}\n${'─'.repeat(text.length)}`);
}
