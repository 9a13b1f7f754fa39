import { Refusal } from '../../../src/model/index.ts';
import { serveJobs } from '../../../src/reading/pool/serve-jobs.ts';

/** What the worker of these tests can be asked for. */
export type TestJob =
  | { readonly ask: 'echo'; readonly value: unknown }
  | { readonly ask: 'pid' }
  | { readonly ask: 'refuse' }
  | { readonly ask: 'fail' }
  | { readonly ask: 'note'; readonly what: string }
  | { readonly ask: 'noted'; readonly ms: number }
  | { readonly ask: 'hang' }
  | { readonly ask: 'wait'; readonly ms: number }
  | { readonly ask: 'fill-heap' }
  | { readonly ask: 'fill-memory' };

const noted: string[] = [];

async function answer(given: unknown): Promise<unknown> {
  const job = given as TestJob;
  switch (job.ask) {
    case 'echo':
      return job.value;
    case 'pid':
      return process.pid;
    case 'refuse':
      throw new Refusal('unreadable', { file: 'book.pdf', reason: 'it is damaged', page: 7 });
    case 'fail':
      throw new TypeError('a bug');
    case 'note':
      noted.push(job.what);
      return null;
    case 'noted':
      await new Promise((resolve) => setTimeout(resolve, job.ms));
      return noted;
    case 'hang':
      for (;;) Math.random();
    case 'wait':
      return new Promise((resolve) => setTimeout(() => resolve(process.pid), job.ms));
    case 'fill-heap': {
      const kept: unknown[] = [];
      for (;;) kept.push({ at: kept.length, text: `kept ${kept.length}` });
    }
    case 'fill-memory': {
      const kept: Buffer[] = [];
      return new Promise(() => {
        setInterval(() => kept.push(Buffer.alloc(32 * 2 ** 20, 1)), 10);
      });
    }
  }
}

serveJobs(answer, async () => void noted.splice(0));
