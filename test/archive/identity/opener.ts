/** A program that opens the archive in FOLDER when it is told to, and tells as whom it signs and how long its log is. */
import { once } from 'node:events';
// Past the door: the door also opens the libraries that read PDFs.
import { openArchive } from '../../../src/archive/open-archive.ts';

process.stdout.write('ready\n');
await once(process.stdin, 'data');
const archive = await openArchive(process.argv[2] ?? '', Date.now());
process.stdout.write(`${archive.identity.verifierKey} ${await archive.catalogue.log.size()}\n`);
archive.close();
process.exit();
