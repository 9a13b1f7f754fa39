import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { COMPILING_FULLY, COMPILING_LITTLE } from '../../../src/reading/pool/compiling.ts';

/** What this runtime's engine lists of its settings, with what they are unless they are set. */
const LISTED = execFileSync(process.execPath, ['--v8-options'], { encoding: 'utf8' });

describe('how much a worker’s engine compiles', () => {
  it.each([...COMPILING_LITTLE, ...COMPILING_FULLY])('%s is a setting that it has', (setting) => {
    const name = setting.replace(/^--(no-)?/, '').replace(/=.*/, '');
    expect(LISTED).toMatch(new RegExp(`^  --${name} \\(`, 'm'));
  });

  it('is in the end what the engine has unless it is told otherwise', () => {
    for (const setting of COMPILING_FULLY.filter((one) => one.includes('='))) {
      expect(LISTED).toContain(`default: ${setting}\n`);
    }
    // unset it asks the machine, and a desktop or a server is not sparing
    expect(LISTED).toContain('default: --efficiency-mode=unset\n');
  });

  it.each(COMPILING_LITTLE)('%s is taken back', (setting) => {
    const name = setting.replace(/^--/, '').replace(/=.*/, '');
    expect(COMPILING_FULLY.some((one) => one.replace(/^--(no-)?/, '').replace(/=.*/, '') === name)).toBe(true);
  });
});
