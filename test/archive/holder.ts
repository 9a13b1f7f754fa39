/** A program that holds FOLDER until it ends, and tells whether it could. */
import { holdFolder } from '../../src/archive/hold-folder.ts';

process.stdin.resume();
try {
  await holdFolder(process.argv[2] ?? '', Date.UTC(2026, 10, 25, 12));
  process.stdout.write('held\n');
} catch (error) {
  process.stdout.write(`${String(error)}\n`);
}
