/** `npm run house`: the code's own figures, one a line. Exit status 1 where a figure that must be 0 is not. */
import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { exportedFrom } from './exported.ts';

const ROOT = fileURLToPath(new URL('../', import.meta.url));
const PURE = ['model', 'comparing', 'plates', 'sealing', 'ledger', 'evidence'];

const files = git(['ls-files', '--cached', '--others', '--exclude-standard']).filter((path) => existsSync(ROOT + path));
const sources = files.filter((path) => /^src\/.*\.(ts|tsx|js|css)$/.test(path));
const typed = sources.filter((path) => path.endsWith('.ts'));
const tests = files.filter((path) => /^test\/.*\.ts$/.test(path));
const isPure = (path: string) => PURE.includes(path.split('/')[1] ?? '');

let broken = 0;

section('Files');
const lines = sources.map((path) => ({ path, lines: text(path).trimEnd().split('\n').length }));
lines.sort((one, other) => one.lines - other.lines);
const quantile = (part: number) => lines[Math.min(lines.length - 1, Math.floor(part * lines.length))]?.lines ?? 0;
say('source files', `${sources.length}`);
say(
  'lines: median / 90th / longest',
  `${quantile(0.5)} / ${quantile(0.9)} / ${quantile(1)} (${lines.at(-1)?.path ?? ''})`,
);
say('files of at most 200 lines', percent(lines.filter((file) => file.lines <= 200).length, lines.length));
say('test : source, non-blank lines', ratio(tests, sources));
say('test : source, pure rooms', ratio(tests.filter(isPure), sources.filter(isPure)));

section('Exports');
const exported = exportedFrom(typed);
// Functions, classes and public methods, as the figures of other houses were taken.
const called = exported.filter(({ kind }) => kind === 'function' || kind === 'class' || kind === 'method');
say(
  'exports of all kinds, documented',
  share(exported, ({ documented }) => documented),
);
say(
  'functions, classes, public methods, documented',
  share(called, ({ documented }) => documented),
);
say(
  '  … that say what they refuse',
  share(called, ({ throws }) => throws.length > 0),
);
say(
  '  … that refuse in their own lines and say so',
  share(
    called.filter(({ refuses }) => refuses),
    ({ throws }) => throws.length > 0,
  ),
);
say(
  '  … that name a source',
  share(called, ({ sources: named }) => named.length > 0),
);

section('Must be 0');
const rooms = violations();
mustBeNone('import rules broken', rooms.filter((rule) => rule !== 'no-cycles').length);
mustBeNone('cycles', rooms.filter((rule) => rule === 'no-cycles').length);
mustBeNone('unused exports, files, packages', unused());
mustBeNone(
  'work left for later in comments',
  [...sources, ...tests].map(laterIn).reduce((sum, count) => sum + count, 0),
);
promises();

section('Probes by standard');
for (const [standard, count] of probes()) say(standard, `${count}`);

section('Commits');
const commits = commitsTouchingSource();
say('commits that touch src/ and bring a test', percent(commits.filter(bringsTest).length, commits.length));

process.exitCode = broken > 0 ? 1 : 0;

function git(call: readonly string[]): string[] {
  return execFileSync('git', call, { cwd: ROOT, encoding: 'utf8', maxBuffer: 2 ** 26 })
    .split('\n')
    .filter((line) => line !== '');
}

function text(path: string): string {
  return readFileSync(ROOT + path, 'utf8');
}

function section(title: string): void {
  console.log(`\n${title}`);
}

function say(what: string, figure: string): void {
  console.log(`  ${what.padEnd(50)} ${figure}`);
}

function mustBeNone(what: string, count: number): void {
  broken += count;
  say(what, count === 0 ? '0' : `${count}  <- must be 0`);
}

function percent(part: number, whole: number): string {
  return whole === 0 ? 'none yet' : `${((100 * part) / whole).toFixed(0)} % (${part} of ${whole})`;
}

function share<T>(all: readonly T[], has: (one: T) => boolean): string {
  return percent(all.filter(has).length, all.length);
}

function nonBlank(paths: readonly string[]): number {
  const count = (path: string) =>
    text(path)
      .split('\n')
      .filter((line) => line.trim() !== '').length;
  return paths.reduce((sum, path) => sum + count(path), 0);
}

function ratio(testing: readonly string[], tested: readonly string[]): string {
  const [tests_, source] = [nonBlank(testing), nonBlank(tested)];
  return source === 0 ? 'none yet' : `${(tests_ / source).toFixed(2)} (${tests_} : ${source})`;
}

/** Names of the import rules that are broken, once for each breach. */
function violations(): string[] {
  const cruiser = `${ROOT}node_modules/dependency-cruiser/bin/dependency-cruise.mjs`;
  const call = [cruiser, '--config', '.house/rooms.cjs', '--output-type', 'json', 'src', 'web'];
  const { stdout } = spawnSync(process.execPath, call, { cwd: ROOT, encoding: 'utf8', maxBuffer: 2 ** 28 });
  const report = JSON.parse(stdout) as { summary: { violations: { rule: { name: string } }[] } };
  return report.summary.violations.map(({ rule }) => rule.name);
}

function unused(): number {
  const knip = `${ROOT}node_modules/knip/bin/knip.js`;
  const call = [knip, '--config', '.house/knip.json', '--reporter', 'json', '--no-config-hints'];
  const { stdout } = spawnSync(process.execPath, call, { cwd: ROOT, encoding: 'utf8', maxBuffer: 2 ** 28 });
  const report = JSON.parse(stdout) as { issues: Record<string, unknown>[] };
  const listed = report.issues.flatMap((issue) => Object.values(issue).filter((entries) => Array.isArray(entries)));
  return listed.reduce((sum, entries) => sum + entries.length, 0);
}

function laterIn(path: string): number {
  // In pieces, so that this line does not count itself.
  return [...text(path).matchAll(new RegExp(`//.*\\b(${['TO', 'DO'].join('')}|${['FIX', 'ME'].join('')})\\b`, 'g'))]
    .length;
}

/** Numbered promises of the archive (K1, K2, …) that no test is named after. */
function promises(): void {
  const file = 'src/archive/keeping.md';
  if (!files.includes(file)) return say('promises without a test', 'n/a: no promises yet (src/archive/keeping.md)');
  const promised = new Set([...text(file).matchAll(/^[-*#\s]*\**(K\d+)\b/gm)].map(([, name]) => name!));
  const kept = tests.map(text).join('\n');
  mustBeNone(
    'promises without a test',
    [...promised].filter((name) => !new RegExp(`['"\`]${name} `).test(kept)).length,
  );
}

/** Published values by folder of test/standards; a file that is a list counts its entries. */
function probes(): [string, number][] {
  const folders = readdirSync(`${ROOT}test/standards`, { withFileTypes: true }).filter((entry) => entry.isDirectory());
  return folders.map(({ name }) => {
    const lists = files.filter((path) => path.startsWith(`test/standards/${name}/`) && path.endsWith('.json'));
    const count = (path: string) => {
      const read: unknown = JSON.parse(text(path));
      return Array.isArray(read) ? read.length : 0;
    };
    return [name, lists.reduce((sum, path) => sum + count(path), 0)];
  });
}

function commitsTouchingSource(): string[] {
  return git(['log', '--format=%H', '--no-merges', '--', 'src']);
}

function bringsTest(commit: string): boolean {
  return git(['show', '--format=', '--name-only', commit]).some((path) => path.startsWith('test/'));
}
