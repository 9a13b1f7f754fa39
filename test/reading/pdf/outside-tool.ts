import { execFileSync, spawnSync } from 'node:child_process';

/**
 * Whether a program of the machine is there. Where it is absent a loud line says how to get it, and the test is skipped;
 * in CI an absent tool fails instead.
 */
export function hasTool(command: string, debianPackage: string): boolean {
  const { error } = spawnSync(command, ['--version'], { stdio: 'ignore' });
  if (error === undefined) return true;
  const line = `NOT CHECKED: ${command} is absent; apt-get install ${debianPackage}`;
  if (process.env.CI !== undefined && process.env.CI !== '') throw new Error(line);
  process.stderr.write(`\n${line}\n`);
  return false;
}

/** What a program prints. qpdf's exit 3 (warnings, file written) passes. */
export function run(command: string, args: readonly string[]): string {
  try {
    return execFileSync(command, args, { encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
  } catch (error) {
    const { status, stdout } = error as { status?: number; stdout?: string };
    if (command === 'qpdf' && status === 3) return stdout ?? '';
    throw error;
  }
}
