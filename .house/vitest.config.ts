import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    root: fileURLToPath(new URL('..', import.meta.url)),
    include: ['test/**/*.test.ts'],
    exclude: ['test/evaluation/**', 'test/bench/**', 'node_modules/**'],
    // Forks, not threads: native code of a drawing library that dies takes one test file with it, not the run.
    pool: 'forks',
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
});
