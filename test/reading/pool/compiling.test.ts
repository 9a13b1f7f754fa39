import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { COMPILING_FULLY, COMPILING_LITTLE } from '../../../src/reading/pool/compiling.ts';

/** What this runtime's engine lists of its settings, with what they are unless they are set. */
const LISTED = execFileSync(process.execPath, ['--v8-options'], { encoding: 'utf8' });

/**
 * A function called five thousand times, and six thousand times more after a second of other work, in a process with such
 * settings: prints whether the last compiler had it by then. It is asked for at three thousand calls, or, while little is
 * compiled, at fifteen thousand.
 */
const CALLED_OFTEN = `
  const { createHash } = await import('node:crypto');
  const { compileFullyLater } = await import('${new URL('../../../src/reading/pool/compiling.ts', import.meta.url).href}');
  compileFullyLater(1000);
  function often(count) {
    let sum = 0;
    for (let at = 0; at < count; at++) sum += at % 7;
    return sum;
  }
  async function call(rounds) {
    for (let round = 0; round < rounds; round++) {
      for (let time = 0; time < 100; time++) often(20);
      await new Promise((done) => setTimeout(done, 2));
    }
    return %ActiveTierIsTurbofan(often);
  }
  const before = await call(50);
  const [hash, work] = [createHash('sha256'), Buffer.alloc(1 << 20)];
  while (process.cpuUsage().user < 1.1e6) hash.update(work);
  await new Promise((done) => setTimeout(done, 300));
  console.log(before, await call(60));`;

const calledOften = (settings: readonly string[]): string =>
  execFileSync(
    process.execPath,
    ['--allow-natives-syntax', ...settings, '--input-type=module', '--eval', CALLED_OFTEN],
    { encoding: 'utf8' },
  ).trim();

const nameOf = (setting: string): string => setting.replace(/^--(no-)?/, '').replace(/=.*/, '');

describe('how much a worker’s engine compiles', () => {
  it.each([...COMPILING_LITTLE, ...COMPILING_FULLY])('%s is a setting that it has', (setting) => {
    expect(LISTED).toMatch(new RegExp(`^  --${nameOf(setting)} \\(`, 'm'));
  });

  it('is in the end what the engine has unless it is told otherwise', () => {
    for (const setting of COMPILING_FULLY.filter((one) => one.includes('='))) {
      expect(LISTED).toContain(`default: ${setting}\n`);
    }
    // unset, whoever embeds the engine decides, and this runtime does not ask for it (from memory)
    expect(LISTED).toContain('default: --efficiency-mode=unset\n');
  });

  it.each(COMPILING_LITTLE)('%s is taken back', (setting) => {
    expect(COMPILING_FULLY.map(nameOf)).toContain(nameOf(setting));
  });

  it('leaves out the last compiler until a process has worked for some time', () => {
    expect(calledOften([])).toBe('true true');
    expect(calledOften(COMPILING_LITTLE)).toBe('false true');
  });
});
