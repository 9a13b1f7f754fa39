import { TOLERANCE_TABLE } from '../model/index.ts';
import type { ToleranceName } from '../model/index.ts';
import type { Outlet } from './desk.ts';
import { inked } from './ink.ts';
import { fill, wrap } from './wrap.ts';

const USES: readonly (readonly [string, string])[] = [
  ['compare DUMMY REVISION', 'says page by page what in REVISION is no longer what was signed in DUMMY'],
  ['page-hashes FILE', 'prints the content hash of each page, one line a page'],
  ['scrub FOLDER', 'reads everything in an archive again and says what is damaged or missing'],
];

const OPTIONS: readonly (readonly [string, string])[] = [
  ['--json FILE', 'writes the report for programs'],
  ['--html DIR', 'writes a report to look at: a folder that opens in a browser without a server'],
  ['--pdf FILE', 'writes a report to print and file'],
  ['--pages 3-17', 'compares these pages only'],
  ['--for plates', 'the revision is about to be made into plates: a picture that is too coarse stops it'],
  ['--tolerances FILE', 'a JSON object of tolerances that differ from those below'],
  ['--kept DIR', 'keeps what was read in DIR, so that the next comparison is quicker'],
  ['--workers N', 'pages that are worked on at the same time; by default as many as there are cores'],
  ['--verbose', 'shows where in the program a failure arose'],
  ['--help', 'prints this'],
];

/** A column narrower than this would be a word a line. */
const NARROW = 30;

/** Longest endings first, so that square millimetres are not taken for something else. */
const UNITS: readonly (readonly [string, string])[] = [
  ['Percent', '%'],
  ['Mm2', 'mm²'],
  ['Ppi', 'ppi'],
  ['Deg', 'degrees'],
  ['Mm', 'mm'],
];

/** The whole help: uses, options, exit status, and every tolerance with its default, unit, range and reason. */
export function helpLines(outlet: Outlet): readonly string[] {
  const width = Math.min(100, outlet.columns - 1);
  const heading = (text: string): readonly string[] => ['', inked(outlet, text, 'strong')];
  return [
    ...wrap('Witness Leaf compares a later file of a photo book with the dummy that was signed.', width),
    ...heading('Use'),
    ...columns(USES, 25, width),
    ...heading('With compare'),
    ...columns(OPTIONS, 20, width),
    ...heading('Exit status'),
    ...columns(
      [
        ['0', 'the revision matches the dummy; the archive is whole'],
        ['1', 'there are findings that stop the plates or want a look; something in the archive is damaged or missing'],
        ['2', 'it could not be done; the reason is on standard error'],
      ],
      3,
      width,
    ),
    ...heading('Tolerances'),
    ...(Object.keys(TOLERANCE_TABLE) as ToleranceName[]).flatMap((name) => toleranceLines(name, width)),
  ];
}

function toleranceLines(name: ToleranceName, width: number): readonly string[] {
  const entry = TOLERANCE_TABLE[name];
  const { value, least, most, reason } = entry;
  const figures = `${value} ${'unit' in entry ? entry.unit : unitOf(name)} (${least} to ${most})`;
  return [...columns([[name, figures]], 19, width), ...indented(reason, 6, width)];
}

/** The unit that a tolerance's name ends in. */
function unitOf(name: ToleranceName): string {
  return UNITS.find(([ending]) => name.endsWith(ending))?.[1] ?? '';
}

/** Terms with their meanings beside them, or below them where there is no room. */
function columns(rows: readonly (readonly [string, string])[], left: number, width: number): readonly string[] {
  return rows.flatMap(([term, meaning]) => {
    if (width - left < NARROW) return [...indented(term, 2, width), ...indented(meaning, 6, width)];
    const [first = '', ...rest] = wrap(meaning, width - left - 2);
    return [`  ${fill(term, left)}${first}`, ...rest.map((line) => `  ${fill('', left)}${line}`)];
  });
}

function indented(text: string, by: number, width: number): readonly string[] {
  return wrap(text, width - by).map((line) => `${' '.repeat(by)}${line}`);
}
