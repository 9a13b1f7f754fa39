import { execFile } from 'node:child_process';
import { promisify } from 'node:util';

const run = promisify(execFile);

/** Re-saves a file with qpdf (Debian package `qpdf`). */
export async function qpdf(source: string, target: string, flags: readonly string[]): Promise<void> {
  await run('qpdf', ['--deterministic-id', ...flags, source, target]);
}

/** Runs another program of this machine as it is called. */
export async function runOutside(program: string, words: readonly string[]): Promise<void> {
  await run(program, [...words], { maxBuffer: 2 ** 26 });
}

/** Writes a file anew with Ghostscript (Debian package `ghostscript`): every page interpreted and drawn again. */
export async function ghostscript(source: string, target: string, flags: readonly string[]): Promise<void> {
  const always = ['-q', '-dSAFER', '-dBATCH', '-dNOPAUSE', '-sDEVICE=pdfwrite', '-dAutoRotatePages=/None'];
  await run('gs', [...always, ...flags, `-sOutputFile=${target}`, source], { maxBuffer: 2 ** 26 });
}
