import { fileURLToPath } from 'node:url';
import jsdoc from 'eslint-plugin-jsdoc';
import reactHooks from 'eslint-plugin-react-hooks';
import tseslint from 'typescript-eslint';

const ROOT = fileURLToPath(new URL('..', import.meta.url));

const PURE = ['model', 'comparing', 'plates', 'sealing', 'ledger', 'evidence'].map((room) => `src/${room}/**/*.ts`);

const MACHINE = 'A pure room gets everything as values: no machine, no network, no time of its own.';

export default tseslint.config(
  { ignores: ['node_modules/**', '.out/**', 'coverage/**'] },
  {
    files: ['**/*.{ts,tsx}'],
    extends: [tseslint.configs.recommendedTypeChecked, tseslint.configs.stylisticTypeChecked],
    languageOptions: { parserOptions: { project: 'tsconfig.json', tsconfigRootDir: ROOT } },
    linterOptions: { reportUnusedDisableDirectives: 'error' },
    rules: {
      '@typescript-eslint/consistent-type-definitions': ['error', 'interface'],
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/no-shadow': 'error',
      '@typescript-eslint/only-throw-error': 'error',
      '@typescript-eslint/switch-exhaustiveness-check': [
        'error',
        { considerDefaultExhaustiveForUnions: true, allowDefaultCaseForExhaustiveSwitch: true },
      ],
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true, allowBoolean: true }],
      // A loop over a typed array knows its bounds; `!` there is what noUncheckedIndexedAccess leaves.
      '@typescript-eslint/no-non-null-assertion': 'off',
      // A loop over a raster needs its index, and an index needs no name.
      '@typescript-eslint/prefer-for-of': 'off',
      // Interfaces of other rooms promise promises; whether this one waits is its own affair.
      '@typescript-eslint/require-await': 'off',
      eqeqeq: ['error', 'always', { null: 'ignore' }],
      'no-console': 'error',
      'max-lines': ['error', { max: 400 }],
      'no-warning-comments': ['error', { terms: ['todo', 'fixme', 'xxx', 'hack'], location: 'anywhere' }],
      'no-var': 'error',
      'prefer-const': 'error',
    },
  },
  {
    files: ['src/**/*.ts', 'web/**/*.{ts,tsx}'],
    plugins: { jsdoc },
    settings: { jsdoc: { mode: 'typescript', tagNamePreference: { returns: 'returns' } } },
    rules: {
      'jsdoc/require-jsdoc': [
        'error',
        {
          publicOnly: { ancestorsOnly: true },
          require: { FunctionDeclaration: true, ClassDeclaration: true, ArrowFunctionExpression: true },
          contexts: ['TSInterfaceDeclaration', 'TSTypeAliasDeclaration'],
          enableFixer: false,
        },
      ],
      'jsdoc/check-tag-names': ['error', { definedTags: ['source'], typed: true }],
      'jsdoc/no-types': ['error', { contexts: ['any'] }],
      'jsdoc/empty-tags': 'error',
    },
  },
  {
    files: PURE,
    rules: {
      'no-restricted-imports': ['error', { patterns: [{ group: ['node:*'], message: MACHINE }] }],
      'no-restricted-globals': [
        'error',
        ...['Date', 'process', 'fetch', 'setTimeout', 'setInterval', 'setImmediate', 'queueMicrotask', 'performance']
          .concat(['Buffer', 'console', 'crypto', 'globalThis', 'XMLHttpRequest', 'WebSocket', 'Worker', 'require'])
          .map((name) => ({ name, message: MACHINE })),
      ],
      'no-restricted-properties': [
        'error',
        { object: 'Math', property: 'random', message: 'The same values must give the same findings on every run.' },
      ],
    },
  },
  {
    files: ['web/**/*.{ts,tsx}'],
    extends: [reactHooks.configs.flat.recommended],
    rules: {
      // What a form or a click does is its own affair; nobody waits for what a handler returns.
      '@typescript-eslint/no-confusing-void-expression': 'off',
    },
  },
  {
    files: ['web/**/*.{ts,tsx}'],
    ignores: ['web/build.ts'],
    rules: {
      'no-restricted-imports': ['error', { patterns: [{ group: ['node:*'], message: 'The pages run in a browser.' }] }],
      'no-restricted-globals': [
        'error',
        ...['process', 'Buffer', 'global'].map((name) => ({ name, message: 'The pages run in a browser.' })),
      ],
    },
  },
  {
    // Programs that people start speak to the terminal.
    files: ['src/command/**/*.ts', 'demo/**/*.ts', 'test/evaluation/**/*.ts', 'test/bench/**/*.ts', '.house/*.ts'],
    rules: { 'no-console': 'off' },
  },
);
