import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';

const MODULE = new URL('../../../src/reading/raster/late-response.ts', import.meta.url).href;
const RENDERER = new URL('../../../src/reading/raster/pdfjs.ts', import.meta.url).href;

/** Runs a few lines in a process of their own, since the runtime loads its part for networks once. @returns what they print */
function run(lines: string): string {
  return execFileSync(process.execPath, ['--input-type=module', '--eval', lines], { encoding: 'utf8' }).trim();
}

const HAS_LOADED = `process.moduleLoadList.some((name) => name.includes('undici/undici'))`;

describe('the runtime’s Response', () => {
  it('is not loaded with the renderer', () => {
    const lines = `
      const { loadPdfjs } = await import('${RENDERER}');
      await loadPdfjs();
      const before = ${HAS_LOADED};
      globalThis.Response;
      console.log(before, ${HAS_LOADED});`;
    expect(run(lines)).toBe('false true');
  });

  it('is what whoever makes one gets, with all that it has', () => {
    const lines = `
      const { responseWhenMade } = await import('${MODULE}');
      responseWhenMade();
      const made = new Response('winter', { status: 203 });
      const found = [made instanceof globalThis.Response, made instanceof Response, {} instanceof Response, made.status];
      console.log(...found, await made.text(), typeof Response.prototype.bytes, await Response.json([7]).text());`;
    expect(run(lines)).toBe('true true false 203 winter function [7]');
  });
});
