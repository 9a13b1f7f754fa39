import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { codePath, compileKernel, kernelSources } from '../../.house/kernels.ts';
import { ROOT } from './project.ts';

test.each(kernelSources())('what the program runs is what %s says, compiled', async (source) => {
  expect(readFileSync(join(ROOT, codePath(source)), 'utf8')).toBe(await compileKernel(source));
});

test('there are kernels to compile', () => {
  expect(kernelSources()).toContain('src/reading/raster/kernels/pixels.as');
});
