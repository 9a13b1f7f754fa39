import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    root: fileURLToPath(new URL('..', import.meta.url)),
    include: ['test/**/*.test.ts'],
    // The service under test serves the pages as they are now.
    globalSetup: ['web/build.ts'],
    exclude: ['test/evaluation/**', 'test/bench/**', 'node_modules/**'],
    // Forks, not threads: native code of a drawing library that dies takes one test file with it, not the run.
    pool: 'forks',
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // What is waited for comes when it comes; a machine under load is no reason to fail.
    expect: { poll: { timeout: 30_000 } },
  },
});
