import { parseArgs } from 'node:util';
import type { ImposedTask } from './imposed-task.ts';
import { imposedTask } from './imposed-task.ts';

/** What to compare and which reports to write; paths as the person typed them. */
export interface CompareTask {
  readonly command: 'compare';
  readonly dummy: string;
  readonly revision: string;
  readonly json: string | null;
  readonly html: string | null;
  readonly pdf: string | null;
  readonly pages: { readonly first: number; readonly last: number } | null;
  readonly tolerances: string | null;
  readonly purpose: 'compare' | 'plates';
  readonly kept: string | null;
  /** null: as many as the machine has cores. */
  readonly workers: number | null;
  /** null: the second file is a book of pages. */
  readonly imposed: ImposedTask | null;
}

/** Which evidence pack to check, and what the person knows from elsewhere. */
export interface VerifyTask {
  readonly command: 'verify';
  readonly pack: string;
  /** A file with a head of the archive's log that was seen before. */
  readonly seen: string | null;
  readonly fingerprints: readonly string[];
}

/** What a command line asks for; `wrong` says in one line what does not fit. */
export type Task =
  | CompareTask
  | { readonly command: 'page-hashes'; readonly file: string }
  | { readonly command: 'scrub'; readonly folder: string }
  | { readonly command: 'backup'; readonly folder: string; readonly copy: string }
  /** One of the commands for keys and for an archive over the network; they read their own arguments. */
  | { readonly command: 'client'; readonly words: readonly string[] }
  | { readonly command: 'serve' }
  | VerifyTask
  | { readonly command: 'help' }
  | { readonly command: 'wrong'; readonly problem: string };

const OPTIONS = {
  json: { type: 'string' },
  html: { type: 'string' },
  pdf: { type: 'string' },
  pages: { type: 'string' },
  tolerances: { type: 'string' },
  for: { type: 'string' },
  kept: { type: 'string' },
  workers: { type: 'string' },
  seen: { type: 'string' },
  known: { type: 'string', multiple: true },
  imposed: { type: 'boolean' },
  plan: { type: 'string' },
  fold: { type: 'string' },
  bound: { type: 'string' },
  working: { type: 'string' },
  'save-plan': { type: 'string' },
  verbose: { type: 'boolean' },
  help: { type: 'boolean', short: 'h' },
} as const;

const OWN = ['compare', 'page-hashes', 'scrub', 'backup', 'verify', 'serve', 'help'];
const MOST_WORKERS = 64;
const VERIFY_ONLY = ['seen', 'known'] as const;
const COMPARE_ONLY = [
  'json',
  'html',
  'pdf',
  'pages',
  'tolerances',
  'for',
  'kept',
  'workers',
  'imposed',
  'plan',
  'fold',
  'bound',
  'working',
  'save-plan',
] as const;

/** Reads a command line. What does not fit comes back as a `wrong` task, never as something thrown. */
export function parseTask(args: readonly string[]): Task {
  const [first = ''] = args;
  if (!OWN.includes(first) && /^[a-z]/.test(first) && !args.includes('--help'))
    return { command: 'client', words: args };
  const read = readArguments(args);
  if (typeof read === 'string') return { command: 'wrong', problem: read };
  const { values, positionals } = read;
  const [command, ...files] = positionals;
  if (values.help === true || command === 'help') return { command: 'help' };
  if (command === undefined) return { command: 'wrong', problem: 'what to do is missing, such as compare' };
  if (command === 'verify') return verifyTask(values, files);
  const ofVerify = VERIFY_ONLY.find((name) => values[name] !== undefined);
  if (ofVerify !== undefined) return { command: 'wrong', problem: `only verify has --${ofVerify}` };
  if (command === 'compare') return compareTask(values, files);
  if (command === 'page-hashes' || command === 'scrub') return taskOfOne(command, values, files);
  if (command === 'backup') return backupTask(values, files);
  if (command === 'serve') return serveTask(values, files);
  return { command: 'wrong', problem: `the command comes first, not “${command}” after options` };
}

type Values = Exclude<ReturnType<typeof readArguments>, string>['values'];

function readArguments(args: readonly string[]) {
  try {
    return parseArgs({ args: [...args], options: OPTIONS, allowPositionals: true, strict: true });
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    // Node explains at length how to pass a file that is named like an option; the first sentence says what is wrong.
    return error.message.split(/\.\s/)[0] ?? error.message;
  }
}

function compareTask(values: Values, files: readonly string[]): Task {
  const [dummy, revision, ...more] = files;
  const wrong = (problem: string): Task => ({ command: 'wrong', problem });
  if (dummy === undefined || revision === undefined)
    return wrong('compare needs two files: the dummy and the revision');
  if (more.length > 0 && values.imposed !== true) return wrong(`compare takes two files; ${files.length} were given`);
  const empty = COMPARE_ONLY.find((name) => values[name] === '');
  if (empty !== undefined) return wrong(`--${empty} is empty`);
  const purpose = values.for ?? 'compare';
  if (purpose !== 'compare' && purpose !== 'plates') return wrong(`--for plates expected, --for ${purpose} found`);
  const pages = values.pages === undefined ? null : parsePages(values.pages);
  if (typeof pages === 'string') return wrong(pages);
  const workers = values.workers === undefined ? null : Number(values.workers);
  if (workers !== null && !(Number.isInteger(workers) && workers >= 1 && workers <= MOST_WORKERS)) {
    return wrong(`--workers: a number from 1 to ${MOST_WORKERS} expected, ${values.workers ?? ''} found`);
  }
  const imposed = imposedTask(values, more);
  if (typeof imposed === 'string') return wrong(imposed);
  return {
    command: 'compare',
    dummy,
    revision,
    json: values.json ?? null,
    html: values.html ?? null,
    pdf: values.pdf ?? null,
    pages,
    tolerances: values.tolerances ?? null,
    purpose,
    kept: values.kept ?? null,
    workers,
    imposed,
  };
}

function verifyTask(values: Values, packs: readonly string[]): Task {
  const [pack, ...more] = packs;
  const foreign = COMPARE_ONLY.find((name) => values[name] !== undefined);
  if (foreign !== undefined) return { command: 'wrong', problem: `verify has no --${foreign}` };
  if (pack === undefined || pack === '' || more.length > 0) {
    return { command: 'wrong', problem: `verify takes one evidence pack; ${packs.length} were given` };
  }
  if (values.seen === '') return { command: 'wrong', problem: '--seen is empty' };
  return { command: 'verify', pack, seen: values.seen ?? null, fingerprints: values.known ?? [] };
}

/** The commands that take one path and no options of `compare`. */
function taskOfOne(command: 'page-hashes' | 'scrub', values: Values, paths: readonly string[]): Task {
  const [path, ...more] = paths;
  const foreign = COMPARE_ONLY.find((name) => values[name] !== undefined);
  if (foreign !== undefined) return { command: 'wrong', problem: `${command} has no --${foreign}` };
  if (path === undefined || path === '' || more.length > 0) {
    const one = command === 'scrub' ? 'folder' : 'file';
    return { command: 'wrong', problem: `${command} takes one ${one}; ${paths.length} were given` };
  }
  return command === 'scrub' ? { command, folder: path } : { command, file: path };
}

function backupTask(values: Values, folders: readonly string[]): Task {
  const [folder = '', copy = '', ...more] = folders;
  const foreign = COMPARE_ONLY.find((name) => values[name] !== undefined);
  if (foreign !== undefined) return { command: 'wrong', problem: `backup has no --${foreign}` };
  return folder !== '' && copy !== '' && more.length === 0
    ? { command: 'backup', folder, copy }
    : { command: 'wrong', problem: `backup takes two folders, the archive and its copy; ${folders.length} were given` };
}

/** Everything else about the service is told by the environment. */
function serveTask(values: Values, more: readonly string[]): Task {
  const foreign = COMPARE_ONLY.find((name) => values[name] !== undefined);
  if (foreign !== undefined) return { command: 'wrong', problem: `serve has no --${foreign}` };
  return more.length === 0
    ? { command: 'serve' }
    : { command: 'wrong', problem: 'serve takes nothing; its settings are variables' };
}

/** "3-17" or "7"; a sentence where it is neither. */
function parsePages(text: string): { readonly first: number; readonly last: number } | string {
  const match = /^([1-9][0-9]{0,5})(?:-([1-9][0-9]{0,5}))?$/.exec(text);
  const first = Number(match?.[1]);
  const last = Number(match?.[2] ?? match?.[1]);
  if (match === null || last < first) return `--pages: FIRST-LAST expected, such as 3-17; ${text} found`;
  return { first, last };
}
