import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from './project.ts';

const ROOMS = [
  'model',
  'ledger',
  'sealing',
  'evidence',
  'comparing',
  'plates',
  'reading',
  'archive',
  'reporting',
  'service',
  'command',
];

/** One planted breach: a file, the import in it, and every rule it breaks. */
interface Breach {
  readonly file: string;
  readonly line: string;
  readonly rules: readonly string[];
}

const upward = (from: string, to: string): Breach => ({
  file: `src/${from}/looks-up.ts`,
  line: `import type { Open } from '../${to}/index.ts';\nexport type Here = Open;`,
  rules: [`${from}-opens-only-what-is-below`],
});
const foreign = (room: string, name: string): Breach => ({
  file: `src/${room}/takes-a-package.ts`,
  line: `import * as taken from '${name}';\nexport const kept = taken;`,
  rules: [`${room}-has-its-own-packages`],
});

const BREACHES: readonly Breach[] = [
  upward('model', 'comparing'),
  upward('ledger', 'sealing'),
  upward('sealing', 'ledger'),
  upward('evidence', 'archive'),
  upward('comparing', 'reading'),
  upward('plates', 'reading'),
  upward('reading', 'comparing'),
  upward('archive', 'reporting'),
  upward('reporting', 'service'),
  upward('service', 'reading'),
  foreign('model', 'zod'),
  foreign('ledger', 'node-forge'),
  foreign('sealing', 'express'),
  foreign('evidence', 'yauzl'),
  foreign('comparing', 'sharp'),
  foreign('plates', 'sharp'),
  foreign('reading', 'pdfkit'),
  foreign('archive', 'sharp'),
  foreign('reporting', 'pdfjs-dist'),
  foreign('service', 'sharp'),
  foreign('command', 'sharp'),
  {
    file: 'src/command/opens-a-hidden-room.ts',
    line: "export type { Open } from '../attic/index.ts';",
    rules: ['command-opens-only-what-is-below', 'no-room-without-a-rule'],
  },
  {
    file: 'src/comparing/asks-the-disk.ts',
    line: "import { readFileSync } from 'node:fs';\nexport const read = readFileSync;",
    rules: ['pure-rooms-touch-no-machine'],
  },
  {
    file: 'src/archive/climbs-through-the-window.ts',
    line: "export const later = () => import('../reading/behind-the-door.ts');",
    rules: ['a-room-has-one-door'],
  },
  {
    file: 'src/reporting/stands-in-the-street.ts',
    line: "export * from '../loose.ts';",
    rules: ['no-file-outside-a-room', 'reporting-opens-only-what-is-below'],
  },
  { file: 'src/reading/about.ts', line: "export type { Round } from './round.ts';", rules: ['no-cycles'] },
  {
    file: 'src/reading/leans-on-a-test.ts',
    line: "export * from '../../test/prop.ts';",
    rules: ['nothing-from-tests-or-demo'],
  },
  {
    file: 'web/reads-for-itself.ts',
    line: "export * from '../src/plates/index.ts';",
    rules: ['the-browser-opens-five-doors'],
  },
  {
    file: 'web/takes-a-package.ts',
    line: "import * as taken from 'sharp';\nexport const kept = taken;",
    rules: ['the-browser-has-its-own-packages'],
  },
  {
    file: 'web/asks-the-disk.ts',
    line: "import { readFileSync } from 'node:fs';\nexport const read = readFileSync;",
    rules: ['the-browser-touches-no-machine'],
  },
  { file: 'src/reading/calls-nobody.ts', line: "export * from './nobody.ts';", rules: ['nothing-unresolved'] },
];

/** What the house allows: none of these may be reported. */
const ALLOWED: Readonly<Record<string, string>> = {
  ...Object.fromEntries(
    ROOMS.map((room) => [`src/${room}/index.ts`, 'export interface Open { readonly yes: true }\n']),
  ),
  'src/reading/behind-the-door.ts': "import { createHash } from 'node:crypto';\nexport const hash = createHash;\n",
  'src/reading/draws.ts':
    "import * as canvas from '@napi-rs/canvas';\nimport sharp from 'sharp';\nexport { canvas, sharp };\n",
  // The other half of a circle, which is reported once.
  'src/reading/round.ts': "export * from './about.ts';\n",
  'src/command/calls.ts': "export type { Open } from '../reading/index.ts';\n",
  'src/plates/compares.ts': "export type { Open } from '../comparing/index.ts';\n",
  'web/signs.ts': "export type { Open } from '../src/sealing/index.ts';\n",
  // Files that no room holds are reported where somebody opens them.
  'src/loose.ts': 'export const loose = true;\n',
  'src/attic/index.ts': 'export interface Open { readonly yes: true }\n',
  'test/prop.ts': 'export const prop = true;\n',
};

interface Violation {
  readonly from: string;
  readonly rule: { readonly name: string };
}

const rules = (createRequire(import.meta.url)(join(ROOT, '.house/rooms.cjs')) as { forbidden: { name: string }[] })
  .forbidden;

let house: string;
let found: Violation[];

beforeAll(() => {
  house = mkdtempSync(join(tmpdir(), 'witnessleaf-house-'));
  const write = (file: string, text: string) => {
    mkdirSync(dirname(join(house, file)), { recursive: true });
    writeFileSync(join(house, file), text);
  };
  Object.entries(ALLOWED).forEach(([file, text]) => write(file, text));
  BREACHES.forEach(({ file, line }) => write(file, `${line}\n`));
  ['package.json', 'tsconfig.json'].forEach((file) => cpSync(join(ROOT, file), join(house, file)));
  symlinkSync(join(ROOT, 'node_modules'), join(house, 'node_modules'));
  found = inspect(house);
});

afterAll(() => rmSync(house, { recursive: true }));

/** What the real rules find in a folder. */
function inspect(folder: string): Violation[] {
  const cruiser = join(ROOT, 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs');
  const call = [cruiser, '--config', join(ROOT, '.house/rooms.cjs'), '--output-type', 'json', 'src', 'web'];
  const { stdout } = spawnSync(process.execPath, call, { cwd: folder, encoding: 'utf8', maxBuffer: 2 ** 26 });
  return (JSON.parse(stdout) as { summary: { violations: Violation[] } }).summary.violations;
}

function brokenIn(file: string): string[] {
  return [...new Set(found.filter(({ from }) => from === file).map(({ rule }) => rule.name))].sort();
}

describe('the rooms of the house', () => {
  it.each(BREACHES.map((breach) => [breach.file, breach] as const))('%s is noticed', (file, { rules: broken }) => {
    expect(brokenIn(file)).toEqual([...broken].sort());
  });

  it('let pass what is allowed', () => {
    const innocent = Object.keys(ALLOWED).filter((file) => brokenIn(file).length > 0);
    expect(innocent).toEqual([]);
  });

  it('have no rule that never fires', () => {
    const fired = new Set(found.map(({ rule }) => rule.name));
    expect(rules.map(({ name }) => name).filter((name) => !fired.has(name))).toEqual([]);
  });

  it('say why: each rule has a sentence', () => {
    const bare = (rules as { name: string; comment?: string }[]).filter(
      ({ comment }) => !/^.{30,}\.$/s.test(comment ?? ''),
    );
    expect(bare).toEqual([]);
  });
});
