/**
 * `npm run bench:sheets`: imposed sheets against what other programs need merely to read them, in one run, in turn.
 *
 * A side of eight pages of 240 x 300 mm at 300 ppi in four inks (one forme that prints both sides), held against its
 * dummy: over poppler's `pdftoppm -r 100` on the same file. A sheet of two such sides is told beside it, over a process a
 * side. And a B1 plate of one bit at 2400 dpi, screened by Ghostscript,
 * brought down to tones with its ruling: over libvips, by which it is read, decoding it alone; `tiffinfo -D` is told beside it.
 * `--runs N`; `--only side`, `--only sheet` or `--only plate`.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { makeDummy, makeFinal, WHOLE } from '../../demo/book/make.ts';
import { imposeSheets } from '../../demo/sheets/impose.ts';
import { formatPlan, makePlan } from '../../src/plates/index.ts';
import type { Working } from '../../src/model/index.ts';
import { FORMAT } from '../../demo/book/grid.ts';
import { megabytes } from './bench-book.ts';
import type { MeasuredRun } from './measured-run.ts';
import { measureRun } from './measured-run.ts';
import { median, tellMachine, tellRuns, tellTargets } from './telling.ts';
import type { Target } from './telling.ts';

const { values } = parseArgs({
  options: { runs: { type: 'string', default: '3' }, only: { type: 'string' } },
});
const runs = Number(values.runs);
const project = join(import.meta.dirname, '..', '..');
const folder = join(project, '.out', 'bench', 'sheets');
const cores = availableParallelism();
const isThere = (program: string, ...words: readonly string[]): boolean =>
  spawnSync(program, words).error === undefined;

for (const [program, from] of [
  ['pdftoppm', 'poppler-utils'],
  ['gs', 'ghostscript'],
] as const) {
  if (isThere(program, '-v')) continue;
  console.error(`bench: ${program} is missing (Debian package ${from})`);
  process.exit(2);
}
mkdirSync(folder, { recursive: true });
tellMachine();

/** Harbour, plains and air: half of the pages are pictures in full bleed. */
const PAGES = [2, 7, 9, 10, 11, 15, 16, 18, 20, 21, 23, 24, 25, 26, 29, 30];
const HALF_OF_THEM = [2, 9, 10, 15, 18, 20, 24, 26];

/** A dummy, what is imposed of it, and the plan. */
interface Imposed {
  readonly name: string;
  readonly pages: readonly number[];
  readonly sides: number;
  readonly dummy: string;
  readonly sheets: string;
  readonly plan: string;
}

async function impose(name: string, pages: readonly number[], working: Working): Promise<Imposed> {
  const own = join(folder, name);
  mkdirSync(own, { recursive: true });
  const [dummy, sheets, planPath] = ['dummy.pdf', 'sheets.pdf', 'plan.json'].map((file) => join(own, file)) as [
    string,
    string,
    string,
  ];
  const edition = { ...WHOLE, pages };
  const trimmed = { width: FORMAT.width, height: FORMAT.height };
  const section = { pages: pages.length, working };
  const plan = makePlan({ pages: pages.length, trimmed, binding: 'sewn', sections: [section] });
  if (!existsSync(dummy)) await makeDummy(own, edition);
  if (!existsSync(sheets))
    await imposeSheets({ bookPath: (await makeFinal(own, edition)).path, plan, outPath: sheets });
  writeFileSync(planPath, formatPlan(plan));
  const sides = plan.sheets.reduce((sum, sheet) => sum + sheet.sides.length, 0);
  return { name, pages, sides, dummy, sheets, plan: planPath };
}

async function inTurn(
  ours: () => Promise<MeasuredRun>,
  yardstick: () => Promise<MeasuredRun>,
): Promise<readonly [MeasuredRun[], MeasuredRun[]]> {
  const taken: readonly [MeasuredRun[], MeasuredRun[]] = [[], []];
  for (let run = 0; run < runs; run++) {
    taken[0].push(await ours());
    taken[1].push(await yardstick());
  }
  const broken = taken.flat().find(({ exitStatus }) => exitStatus !== 0);
  if (broken !== undefined) throw new Error(`a run ended with status ${broken.exitStatus}`);
  return taken;
}

const overOf = ([ours, yardstick]: readonly [MeasuredRun[], MeasuredRun[]]): number =>
  median(ours.map(({ wallS }, run) => wallS / yardstick[run]!.wallS));

async function benchSheet(of: Imposed): Promise<readonly Target[]> {
  const { name, pages, sides, dummy, sheets } = of;
  console.log(`dummy of ${pages.length} pages ${megabytes(dummy)}, ${name} ${megabytes(sheets)}, ${runs} runs`);
  const command = ['src/command/witnessleaf.ts', 'compare', dummy, sheets, '--imposed', '--plan', of.plan];
  const json = ['--json', join(folder, 'report.json')];
  const rasterise = (): Promise<MeasuredRun> => {
    const lines = Array.from({ length: sides }, (_, at) => {
      const page = `-f ${at + 1} -l ${at + 1}`;
      return `pdftoppm -r 100 ${page} '${sheets}' '${join(folder, 'side')}'`;
    });
    return measureRun('sh', ['-c', cores > 1 ? `${lines.join(' &\n')} &\nwait` : lines.join('\n')], project);
  };
  const taken = await inTurn(() => measureRun(process.execPath, [...command, ...json], project), rasterise);
  spawnSync('sh', ['-c', `rm -f '${join(folder, 'side')}'*`]);
  const looked = await measureRun(process.execPath, [...command, ...json], project, true);
  tellRuns(`${name} against its dummy`, taken[0]);
  tellRuns('pdftoppm -r 100, a process a side', taken[1]);
  return [
    { name: `${name} over pdftoppm`, value: overOf(taken), most: 1.5, unit: '' },
    { name: 'peak memory of all processes', value: looked.peakMb, most: 2000, unit: ' MB' },
  ];
}

/** @source ISO 216 has B1 with 707 x 1000 mm; an untrimmed sheet is 1030 x 790 mm by common practice, no source */
const B1_PT = { width: (1030 / 25.4) * 72, height: (790 / 25.4) * 72 };
const SCREEN =
  '<< /HalftoneType 1 /AccurateScreens true /Frequency 175 /Angle 45 /SpotFunction { 180 mul cos exch 180 mul cos add 2 div } >>';

async function benchPlate(sheets: string): Promise<readonly Target[]> {
  const plate = join(folder, 'plate.tif');
  if (!existsSync(plate)) {
    const fresh = `${plate}.fresh.tif`;
    const size = [`-dDEVICEWIDTHPOINTS=${B1_PT.width}`, `-dDEVICEHEIGHTPOINTS=${B1_PT.height}`, '-dFIXEDMEDIA'];
    const made = spawnSync('gs', [
      ...['-q', '-dBATCH', '-dNOPAUSE', '-dSAFER', '-sDEVICE=tiffg4', '-r2400', ...size, '-dLastPage=1'],
      ...[`-sOutputFile=${fresh}`, '-c', `<< /Install { ${SCREEN} sethalftone } >> setpagedevice`, '-f', sheets],
    ]);
    if (made.status !== 0) throw new Error(`gs: ${String(made.stderr)}`);
    spawnSync('mv', [fresh, plate]);
  }
  console.log(`a B1 plate of one bit at 2400 dpi ${megabytes(plate)}, ${runs} runs`);
  const script = join(import.meta.dirname, 'read-plate.ts');
  const scratch = join(folder, 'tones');
  const reading = (how: string, looking = false): Promise<MeasuredRun> =>
    measureRun(process.execPath, [script, how, plate, scratch], project, looking);
  const taken = await inTurn(
    () => reading('tones'),
    () => reading('decode'),
  );
  // Bits are not made bytes there, and without -M it refuses a plate in one strip, with an exit status of 0.
  const byTiffinfo = isThere('tiffinfo') ? await measureRun('tiffinfo', ['-M', '0', '-D', plate], project) : null;
  const looked = await reading('tones', true);
  rmSync(scratch, { recursive: true, force: true });
  tellRuns('plate to tones, with its ruling', taken[0]);
  tellRuns('libvips, decoding alone', taken[1]);
  if (byTiffinfo !== null) tellRuns('tiffinfo -D, to bits', [byTiffinfo]);
  return [
    { name: 'a plate over merely reading it', value: overOf(taken), most: 1.5, unit: '' },
    { name: 'peak memory while it is read', value: looked.peakMb, most: 1000, unit: ' MB' },
  ];
}

const isWanted = (part: string): boolean => values.only === undefined || values.only === part;
const side = await impose('side', HALF_OF_THEM, 'work-and-turn');
const sheet = await impose('sheet', PAGES, 'sheetwise');
const targets = [
  ...(isWanted('side') ? await benchSheet(side) : []),
  ...(isWanted('sheet') ? await benchSheet(sheet) : []),
  ...(isWanted('plate') ? await benchPlate(sheet.sheets) : []),
];
process.exitCode = tellTargets(targets) ? 0 : 1;
