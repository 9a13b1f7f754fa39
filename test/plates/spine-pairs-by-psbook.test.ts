import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { shareOut } from '../../src/plates/index.ts';
import { hasTool } from '../reading/pdf/outside-tool.ts';
import { spinePairs } from './spine-pairs.ts';

/** A PostScript document whose pages carry nothing but their names. */
function documentOf(pages: number): string {
  const numbered = Array.from({ length: pages }, (_, index) => `%%Page: p${index + 1} ${index + 1}\nshowpage\n`);
  return `%!PS-Adobe-3.0\n%%Pages: ${pages}\n%%EndComments\n${numbered.join('')}%%Trailer\n%%EOF\n`;
}

/** The order that the outside program puts pages in; null for the blanks it fills up with. */
function orderBy(section: number, pages: number): (number | null)[] {
  const { stdout, status } = spawnSync('psbook', ['-q', `-s${section}`], {
    input: documentOf(pages),
    encoding: 'utf8',
  });
  expect(status).toBe(0);
  const labels = [...stdout.matchAll(/^%%Page: (?:\(?p?(\d+)\)?|\S+) \d+$/gm)];
  return labels.map(([line, label]) => (/^%%Page: \(?p\d/.test(line) ? Number(label) : null));
}

describe.skipIf(!hasTool('psbook', 'psutils'))('pairs across a spine, judged by psbook', () => {
  it.each([
    [4, 16],
    [8, 16],
    [16, 16],
    [16, 64],
    [12, 24],
    [20, 20],
    [32, 96],
  ])('sections of %i in a book of %i pages are the same', (section, pages) => {
    const ours = Array.from({ length: pages / section }, (_, index) => spinePairs(section, index * section)).flat();
    expect(ours).toEqual(orderBy(section, pages));
  });

  it('a nested book is one section of all its pages, also where it is filled up with blanks', () => {
    const held = shareOut(18, 4, 'saddle-stitched').reduce((sum, size) => sum + size, 0);
    const ours = spinePairs(held).map((page) => (page > 18 ? null : page));
    expect(ours).toEqual(orderBy(held, 18));
  });
});
