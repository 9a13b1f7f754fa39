/** Reads an archive again beside the service, in a thread of its own. Its message is a `ScrubFound`. */
import { parentPort, workerData } from 'node:worker_threads';
import { isSound, scrubArchive, type ScrubFound } from '../archive/index.ts';

const found = await scrubArchive((workerData as { readonly folder: string }).folder);
const { blobs, bytes, entries, damaged, missing, foreign, catalogueFaults, logFaults } = found;
const faults = [damaged, missing, foreign, catalogueFaults, logFaults].reduce((sum, { length }) => sum + length, 0);
const message: ScrubFound = { isSound: isSound(found), blobs, bytes, entries, faults };
parentPort?.postMessage(message);
