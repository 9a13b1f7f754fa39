import { startPool } from '../../../src/reading/pool/pool.ts';

// A process with a worker of its own; tells its parent the worker's number and waits to be killed.
const pool = startPool({
  module: new URL('./worker-for-tests.ts', import.meta.url),
  size: 1,
  workerMb: 300,
  recycleAfter: 50,
});
process.send?.(await pool.run<number>({ ask: 'pid' }, { timeoutMs: 20_000 }));
setInterval(() => undefined, 1000);
