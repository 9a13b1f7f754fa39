import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CAUTIONS } from '../../../src/model/index.ts';
import type { Report } from '../../../src/model/index.ts';
import { FINDING_WORDS, writeReports } from '../../../src/reporting/index.ts';
import { hasTool, run } from '../../reading/pdf/outside-tool.ts';
import { drawSamplePage, MATCHING_REPORT, SAMPLE_REPORT } from '../sample-book.ts';

const HOSTILE = 'Łódź – Книга – 漢字 (\u202Efdp) \\ end) Tj.pdf';

let desk = '';
let sample = '';

async function write(report: Report, name: string, madeAt?: Date): Promise<string> {
  const path = join(desk, name);
  const names = { dummy: 'signed.pdf', revision: HOSTILE };
  const subject = { report, names, drawPage: drawSamplePage, ...(madeAt === undefined ? {} : { madeAt }) };
  await writeReports(subject, { pdfPath: path, pairsAtOnce: 2 });
  return path;
}

beforeAll(async () => {
  desk = await mkdtemp(join(tmpdir(), 'pdf-report-'));
  sample = await write(SAMPLE_REPORT, 'sample.pdf');
});
afterAll(() => rm(desk, { recursive: true }));

describe('the report on paper', () => {
  it('is the same file for the same report, and another with another date', async () => {
    const few = { ...SAMPLE_REPORT, findings: SAMPLE_REPORT.findings.slice(12, 15) };
    const bytes = await readFile(await write(few, 'few.pdf'));
    expect((await readFile(await write(few, 'again.pdf'))).equals(bytes)).toBe(true);
    const dated = await readFile(await write(few, 'dated.pdf', new Date('2026-11-25T08:00:00Z')));
    expect(dated.equals(bytes)).toBe(false);
  });

  it('holds each picture once and stays small', async () => {
    expect((await readFile(sample)).length).toBeLessThan(2_500_000);
  });
});

describe.skipIf(!hasTool('qpdf', 'qpdf'))('qpdf', () => {
  it('finds no fault with it', () => {
    expect(run('qpdf', ['--check', sample])).toMatch(/No syntax or stream encoding errors found/);
  });

  it('sees bookmarks for the summary, the book, the order, the findings and every page with its findings', () => {
    interface Item {
      readonly title: string;
      readonly kids: readonly Item[];
    }
    const { outlines } = JSON.parse(run('qpdf', ['--json=2', '--json-key=outlines', sample])) as { outlines: Item[] };
    expect(outlines.slice(0, 4).map(({ title }) => title)).toEqual([
      'Summary',
      'The book',
      'Order of the pages',
      'Findings',
    ]);
    const pages = outlines.slice(4);
    expect(pages[0]).toMatchObject({ title: 'The whole file', kids: [{ title: '1  Picture too coarse' }] });
    expect(pages[5]).toMatchObject({ title: 'Page 6 (dummy page 20)', kids: [{ title: '6  Page moved' }] });
    expect(pages.flatMap(({ kids }) => kids)).toHaveLength(SAMPLE_REPORT.findings.length);
  });
});

const hasPoppler = hasTool('pdftotext', 'poppler-utils') && hasTool('pdfinfo', 'poppler-utils');

describe.skipIf(!hasPoppler)('poppler', () => {
  const textOf = (path: string): string => run('pdftotext', ['-layout', path, '-']).replaceAll(/[\s\u00a0]+/g, ' ');

  it('reads the verdict, every caution, and every finding as text', () => {
    const text = textOf(sample);
    expect(text).toContain(
      'The revision differs from the dummy: 16 findings stop the plates, 5 want a look and 1 is a note.',
    );
    for (const caution of CAUTIONS) expect(text).toContain(caution);
    for (const { kind } of SAMPLE_REPORT.findings) expect(text).toContain(FINDING_WORDS[kind]);
    expect(text).toContain('2.4 mm to the left, 0.40 mm down');
    expect(text).toContain('0.40 mm lost');
  });

  it('reads a name in several scripts, and what the typeface lacks by its number', () => {
    expect(textOf(sample)).toContain('Łódź – Книга – [U+6F22][U+5B57] ([U+202E]fdp) \\ end) Tj.pdf');
  });

  it('numbers every sheet', () => {
    const count = Number(/Pages:\s+(\d+)/.exec(run('pdfinfo', [sample]))?.[1]);
    expect(count).toBeGreaterThan(8);
    const text = textOf(sample);
    for (let sheet = 1; sheet <= count; sheet += 1) expect(text).toContain(`${sheet} of ${count}`);
  });

  it('finds a tagged A4 document in English with a title, and no date of today', () => {
    const info = run('pdfinfo', [sample]);
    expect(info).toMatch(/Tagged:\s+yes/);
    expect(info).toMatch(/Page size:\s+595\.28 x 841\.89 pts \(A4\)/);
    expect(info).toMatch(/Title:\s+Łódź/);
    expect(info).toMatch(/CreationDate:\s+Thu Jan\s+1 .*1970/);
  });

  it('finds headings, figures with words in their place, and the table in the structure', () => {
    const tree = run('pdfinfo', ['-struct-text', sample]);
    expect(tree.match(/^\s*H3/gm)).toHaveLength(SAMPLE_REPORT.findings.length);
    expect(tree).toMatch(/Table.*\n\s+TR.*\n\s+TH/);
    expect(tree).toContain('16 findings stop the plates, 5 want a look and 1 is a note.');
    const inside = run('pdfinfo', ['-struct', sample]);
    expect(inside.match(/Figure/g)?.length).toBeGreaterThan(60);
  });

  it('embeds every font', () => {
    const fonts = run('pdffonts', [sample])
      .split('\n')
      .slice(2)
      .filter((line) => line !== '');
    expect(fonts.length).toBeGreaterThan(3);
    expect(fonts.filter((line) => !/\byes yes yes\b/.test(line))).toEqual([]);
  });

  it('reads of two matching files that nothing was found', async () => {
    const text = textOf(await write(MATCHING_REPORT, 'matching.pdf'));
    expect(text).toContain('The revision matches the dummy within the tolerances.');
    expect(text).toContain('Nothing was found. Every page shows what the dummy shows.');
    expect(text).not.toContain('Order of the pages');
  });
});
