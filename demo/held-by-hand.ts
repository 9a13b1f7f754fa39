import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { parseReport } from '../src/reporting/report-parsing.ts';
import type { MadeFile } from './book/make.ts';

const PROJECT = join(import.meta.dirname, '..');
const EXIT = { matches: 0, differs: 1 } as const;

/** Two files that are held against each other at the command line, and where the reports go. */
export interface HeldByHand {
  readonly dummy: MadeFile;
  readonly revision: MadeFile;
  /** Under it, by this name: a folder to look at, a PDF and a JSON. */
  readonly reports: string;
  readonly name: string;
}

/**
 * Compares a revision with the dummy by the program's own command and tells how many of the planted faults it reports.
 *
 * @throws {Error} it does not end as a revision with faults must
 */
export async function holdByHand({ dummy, revision, reports, name }: HeldByHand): Promise<string> {
  const path = (ending: string): string => relative(PROJECT, join(reports, `${name}${ending}`));
  const status = await compare([
    ...[dummy.path, revision.path].map((file) => relative(PROJECT, file)),
    ...['--json', path('.json'), '--html', path(''), '--pdf', path('.pdf')],
  ]);
  if (status !== EXIT.differs) {
    const came = status === EXIT.matches ? 'it matches' : `status ${status}`;
    throw new Error(`${name}: a difference was expected, but ${came}`);
  }
  const { findings } = parseReport(readFileSync(join(PROJECT, path('.json')), 'utf8'));
  return `As it should be: ${revision.planted.length} planted, ${findings.length} reported.`;
}

function compare(words: readonly string[]): Promise<number | null> {
  const run = spawn(process.execPath, [join('src', 'command', 'witnessleaf.ts'), 'compare', ...words], {
    cwd: PROJECT,
    // npm says where the person stood; the paths here start from the project.
    env: { ...process.env, INIT_CWD: PROJECT },
    stdio: 'inherit',
  });
  return new Promise((done, fail) => run.on('error', fail).on('close', done));
}
