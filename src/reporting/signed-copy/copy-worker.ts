import { open } from 'node:fs/promises';
import { readFileBytes, serveJobs } from '../../reading/index.ts';
import type { AssembledCopy } from './assemble-copy.ts';
import type { CopyDone, CopyJob } from './copy-job.ts';
import { assemblePrintCopy, makeUnsealedCopy } from './make-copy.ts';

async function make(job: CopyJob): Promise<CopyDone> {
  const pdf = await readFileBytes(job.path, job.limits);
  const { prefix, tail, seal } = await assembled(job, pdf);
  const file = await open(job.to, 'wx', 0o600);
  try {
    for (const part of [prefix, tail]) await file.writeFile(part);
  } finally {
    await file.close();
  }
  return { bytes: prefix.length + tail.length, seal };
}

function assembled(job: CopyJob, pdf: Uint8Array): Promise<AssembledCopy> {
  return job.copy === 'signed'
    ? makeUnsealedCopy({ ...job.order, pdf }, job.limits)
    : assemblePrintCopy({ ...job.order, pdf }, job.limits);
}

serveJobs((job) => make(job as CopyJob));
