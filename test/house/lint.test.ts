import { ESLint, type Linter } from 'eslint';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { projectFiles, ROOT } from './project.ts';

/** One planted breach: the text of a file, as if it stood in a pure room or in an impure one, and the rule it breaks. */
interface Breach {
  readonly says: string;
  readonly room: 'pure' | 'impure';
  readonly text: string;
  readonly rule: string;
}

// Types are asked of the compiler, so the texts stand in for files that it knows.
const PLACES = {
  pure: 'src/comparing/likeness.ts',
  impure: projectFiles('src/reading/').find((path) => path.endsWith('.ts'))!,
};

const BREACHES: readonly Breach[] = [
  {
    says: 'a pure room that asks for the time',
    room: 'pure',
    text: '/** Now. */\nexport const now = () => Date.now();\n',
    rule: 'no-restricted-globals',
  },
  {
    says: 'a pure room that leaves things to chance',
    room: 'pure',
    text: '/** Any. */\nexport const any = () => Math.random();\n',
    rule: 'no-restricted-properties',
  },
  ...['process', 'fetch', 'setTimeout', 'setInterval', 'Buffer', 'globalThis'].map((name) => ({
    says: `a pure room that uses ${name}`,
    room: 'pure' as const,
    text: `/** Machine. */\nexport const machine = () => ${name};\n`,
    rule: 'no-restricted-globals',
  })),
  {
    says: 'a pure room that opens a module of the machine',
    room: 'pure',
    text: "import { readFileSync } from 'node:fs';\n/** Read. */\nexport const read = () => readFileSync('x');\n",
    rule: 'no-restricted-imports',
  },
  {
    says: 'a function for others without a docstring',
    room: 'impure',
    text: 'export function bare(): number {\n  return 1;\n}\n',
    rule: 'jsdoc/require-jsdoc',
  },
  {
    says: 'a type for others without a docstring',
    room: 'impure',
    text: 'export interface Bare {\n  readonly page: number;\n}\n',
    rule: 'jsdoc/require-jsdoc',
  },
  {
    says: 'any',
    room: 'impure',
    text: '/** Loose. */\nexport const loose = (value: any) => String(value);\n',
    rule: '@typescript-eslint/no-explicit-any',
  },
  {
    says: 'a promise that nobody waits for',
    room: 'impure',
    text: '/** Lost. */\nexport const lost = () => {\n  Promise.reject(new Error());\n};\n',
    rule: '@typescript-eslint/no-floating-promises',
  },
  {
    says: 'a kind that a switch forgets',
    room: 'impure',
    text: [
      '/** Side. */',
      "export type Side = 'recto' | 'verso';",
      '/** Word. */',
      'export function word(side: Side): string {',
      '  switch (side) {',
      "    case 'recto':",
      "      return 'right';",
      '  }',
      "  return 'left';",
      '}',
      '',
    ].join('\n'),
    rule: '@typescript-eslint/switch-exhaustiveness-check',
  },
  {
    says: 'something thrown that is no error',
    room: 'impure',
    text: "/** Throws. */\nexport const fail = () => {\n  throw 'page 3';\n};\n",
    rule: '@typescript-eslint/only-throw-error',
  },
  {
    says: 'a file over 400 lines',
    room: 'impure',
    text: `/** Long. */\nexport const long = 1;\n${'// line\n'.repeat(400)}`,
    rule: 'max-lines',
  },
  {
    says: 'work left for later in a comment',
    room: 'impure',
    text: `/** Later. */\nexport const later = 1; // ${'TO'}${'DO'} this\n`,
    rule: 'no-warning-comments',
  },
  {
    says: 'a line on the terminal from a room that is not a command',
    room: 'impure',
    text: "/** Chat. */\nexport const chat = () => {\n  console.log('page 3');\n};\n",
    rule: 'no-console',
  },
];

let eslint: ESLint;

beforeAll(() => {
  eslint = new ESLint({
    cwd: ROOT,
    overrideConfigFile: join(ROOT, '.house/eslint.config.js'),
    // with CI set the types would be taken from the files on disk, and the planted text would not be looked at
    overrideConfig: { languageOptions: { parserOptions: { disallowAutomaticSingleRunInference: true } } },
  });
});

async function broken(room: Breach['room'], text: string): Promise<(string | null)[]> {
  const results = await eslint.lintText(text, { filePath: join(ROOT, PLACES[room]) });
  return results.flatMap(({ messages }) => messages.map(({ ruleId }: Linter.LintMessage) => ruleId));
}

describe('the rules for lines', () => {
  it.each(BREACHES.map((breach) => [breach.says, breach] as const))('notice %s', async (_, { room, text, rule }) => {
    expect(await broken(room, text)).toContain(rule);
  });

  it('let pass a plain documented function', async () => {
    const plain =
      '/** Twice the number. */\nexport function twice(number: number): number {\n  return 2 * number;\n}\n';
    expect({ pure: await broken('pure', plain), impure: await broken('impure', plain) }).toEqual({
      pure: [],
      impure: [],
    });
  });

  it('let an impure room have a clock', async () => {
    expect(await broken('impure', '/** Now. */\nexport const now = () => Date.now();\n')).toEqual([]);
  });
});
