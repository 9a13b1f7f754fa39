import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Refusal } from '../../src/model/index.ts';
import { writeReports, writeWhole } from '../../src/reporting/index.ts';
import { drawExhibits } from '../../src/reporting/pictures/draw-exhibits.ts';
import { atOnce } from '../../src/reporting/pictures/at-once.ts';
import { drawSamplePage, PAGE_MM, SAMPLE_REPORT } from './sample-book.ts';

let desk = '';
beforeAll(async () => {
  desk = await mkdtemp(join(tmpdir(), 'write-reports-'));
});
afterAll(() => rm(desk, { recursive: true }));

const names = { dummy: 'd.pdf', revision: 'r.pdf' };
/** The sample report with the findings of one kind only, on the pages these stand on. */
function only(kind: string): typeof SAMPLE_REPORT {
  const findings = SAMPLE_REPORT.findings.filter((finding) => finding.kind === kind && finding.revisionPage !== null);
  const pages = SAMPLE_REPORT.pages.filter(({ revisionPage }) =>
    findings.some((finding) => finding.revisionPage === revisionPage),
  );
  return { ...SAMPLE_REPORT, findings, pages };
}

/** The pages of a report on two sides of a sheet, a row of two cells each. */
function onSheets(report: typeof SAMPLE_REPORT): typeof SAMPLE_REPORT {
  const [left, right] = [0, 210].map((x) => ({ x: 20 + x, y: 20, width: 210, height: 250 }));
  const side = (name: 'front' | 'back', filePage: number, pages: readonly [number, number]) => ({
    ...{ sheet: 1, side: name, filePage, width: 460, height: 290 },
    cells: [left!, right!].map((box, at) => ({ page: pages[at]!, row: 1, column: at + 1, box, turnDeg: 0 as const })),
  });
  const sides = [side('front', 1, [8, 1]), side('back', 2, [2, 4])];
  return { ...report, sheets: { plan: 'found', binding: 'sewn', filePages: 2, located: 'marks', sides } };
}

describe('a report on imposed sheets', () => {
  it('shows each side with its cells, from a cell to what was found on its page, and goes on without a side that cannot be drawn', async () => {
    const report = onSheets(only('crop-altered'));
    const number = report.findings[0]?.revisionPage;
    const htmlFolder = join(desk, 'sheets');
    const drawSide = (filePage: number, ppi: number) =>
      filePage === 2 ? drawSamplePage('dummy', 1, ppi) : Promise.reject(new Refusal('not-found', { what: 'page' }));
    const pdfPath = join(desk, 'sheets.pdf');
    await writeReports({ report, names, drawPage: drawSamplePage, drawSide }, { htmlFolder, pdfPath, pairsAtOnce: 1 });
    const page = (await readFile(join(htmlFolder, 'index.html'), 'utf8')).replace(/\s+/g, ' ');
    expect([...page.matchAll(/<figcaption>(Sheet 1 [^<]*)</g)].map(([, caption]) => caption)).toEqual([
      'Sheet 1 front, page 1 of 2 in the file',
      'Sheet 1 back, page 2 of 2 in the file',
    ]);
    expect([...page.matchAll(/class="cell-name"[^>]*>([^<]*)</g)].map(([, cell]) => cell)).toEqual([
      '8',
      '1',
      '2',
      '4 stop',
    ]);
    expect([number, page.match(/<a href="#finding-1">\s*<rect class="cell weighs-stop"/g)?.length]).toEqual([4, 1]);
    expect((await readdir(join(htmlFolder, 'pictures'))).filter((name) => name.startsWith('side'))).toEqual([
      'side-2.webp',
    ]);
    expect((await readFile(pdfPath)).length).toBeGreaterThan(10_000);
  });
});

describe('the pictures of a report', () => {
  it('show the same part of the page on both sides, pixel over pixel, with the difference', async () => {
    const taken: string[] = [];
    const exhibits = await drawExhibits(
      { report: only('crop-altered'), names, drawPage: drawSamplePage },
      {
        pairsAtOnce: 1,
        take: async ({ name, width, height }, picture, use) => {
          expect(picture.rgb.length).toBe(width * height * 3);
          taken.push(`${use} ${name}`);
        },
      },
    );
    expect(taken).toEqual([
      'page revision-page-4',
      'close-up finding-1-dummy',
      'close-up finding-1-revision',
      'close-up finding-1-difference',
    ]);
    const exhibit = [...exhibits.findings.values()][0];
    const sizes = [exhibit?.dummy, exhibit?.revision, exhibit?.difference].map((shot) => [shot?.width, shot?.height]);
    expect(new Set(sizes.map(String)).size).toBe(1);
    expect(exhibits.leaves).toHaveLength(1);
    expect(exhibits.leaves[0]?.sizeMm?.width).toBeCloseTo(PAGE_MM.width, 0);
  });

  it('draw a page twice at most on either side, however many findings it has', async () => {
    const one = only('crop-altered');
    const [finding] = one.findings;
    if (finding === undefined) throw new Error('the sample has a crop');
    const many = Array.from({ length: 5 }, (_, index) => ({ ...finding, id: `${index}` }));
    const drawn: string[] = [];
    await drawExhibits(
      {
        report: { ...one, findings: many },
        names,
        drawPage: (side, page, ppi) => {
          drawn.push(`${side} ${page}`);
          return drawSamplePage(side, page, ppi);
        },
      },
      { pairsAtOnce: 1, take: () => Promise.resolve() },
    );
    expect(drawn.sort()).toEqual(['dummy 4', 'dummy 4', 'revision 4', 'revision 4']);
  });

  it('are left out where a page is refused, and the rest of the report is made', async () => {
    const drawPage: typeof drawSamplePage = (side, page, ppi) =>
      side === 'revision'
        ? Promise.reject(new Refusal('unreadable', { file: 'r.pdf', page, reason: 'it ends in the middle' }))
        : drawSamplePage(side, page, ppi);
    const exhibits = await drawExhibits(
      { report: only('crop-altered'), names, drawPage },
      { pairsAtOnce: 1, take: () => Promise.resolve() },
    );
    const [exhibit] = exhibits.findings.values();
    expect(exhibit).toMatchObject({ revision: null, difference: null });
    expect(exhibit?.dummy?.name).toBe('finding-1-dummy');
    expect(exhibits.leaves[0]).toEqual({ shot: null, sizeMm: null });
  });

  it('end with the fault where drawing breaks for a reason that is no refusal', async () => {
    const drawPage = () => Promise.reject(new TypeError('a bug'));
    const made = drawExhibits(
      { report: only('crop-altered'), names, drawPage },
      { pairsAtOnce: 2, take: () => Promise.resolve() },
    );
    await expect(made).rejects.toThrow(new TypeError('a bug'));
  });

  it('are counted pair by pair for whoever waits', async () => {
    const heard: string[] = [];
    await drawExhibits(
      {
        report: { ...SAMPLE_REPORT, findings: [], pages: SAMPLE_REPORT.pages.slice(0, 3) },
        names,
        drawPage: drawSamplePage,
      },
      {
        pairsAtOnce: 2,
        take: () => Promise.resolve(),
        onProgress: ({ done, total }) => heard.push(`${done}/${total}`),
      },
    );
    expect(heard).toEqual(['1/3', '2/3', '3/3']);
  });
});

describe('work on many things at once', () => {
  it('keeps their order, and never does more than it was told to', async () => {
    let running = 0;
    let most = 0;
    const results = await atOnce([30, 1, 20, 2, 10], 2, async (waitMs) => {
      running += 1;
      most = Math.max(most, running);
      await new Promise((resolve) => setTimeout(resolve, waitMs));
      running -= 1;
      return waitMs;
    });
    expect([results, most]).toEqual([[30, 1, 20, 2, 10], 2]);
  });

  it('starts nothing more after the first failure', async () => {
    const begun: number[] = [];
    const work = atOnce([1, 2, 3, 4, 5, 6], 1, async (item) => {
      begun.push(item);
      if (item === 2) throw new Error('two');
      return Promise.resolve(item);
    });
    await expect(work).rejects.toThrow(new Error('two'));
    expect(begun).toEqual([1, 2]);
  });

  it('is done at once where there is nothing to do', async () => {
    expect(await atOnce([], 4, () => Promise.resolve(1))).toEqual([]);
  });
});

describe('a file that is written', () => {
  it('replaces the former one as a whole and leaves nothing beside it', async () => {
    const folder = join(desk, 'whole');
    await mkdir(folder);
    await writeFile(join(folder, 'report.json'), 'a much longer former report');
    await writeWhole(join(folder, 'report.json'), 'new');
    expect(await readdir(folder)).toEqual(['report.json']);
    expect(await readFile(join(folder, 'report.json'), 'utf8')).toBe('new');
  });

  it('leaves the former one alone where it cannot be written', async () => {
    const folder = join(desk, 'gone', 'report.json');
    await expect(writeWhole(folder, 'new')).rejects.toMatchObject({ code: 'ENOENT' });
  });
});

describe('a report that is asked for nowhere', () => {
  it('draws nothing', async () => {
    const drawPage = () => Promise.reject(new Error('nothing was to be drawn'));
    expect(await writeReports({ report: SAMPLE_REPORT, names, drawPage }, { pairsAtOnce: 1 })).toBeUndefined();
  });
});
