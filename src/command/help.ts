import type { ClientCommand } from './client/client-command.ts';
import { TOLERANCE_TABLE } from '../model/index.ts';
import type { ToleranceName } from '../model/index.ts';
import type { Outlet } from './desk.ts';
import { inked } from './ink.ts';
import { fill, wrap } from './wrap.ts';

const USES: readonly (readonly [string, string])[] = [
  ['compare DUMMY REVISION', 'says page by page what in REVISION is no longer what was signed in DUMMY'],
  ['page-hashes FILE', 'prints the content hash of each page, or of each plate, one line each'],
  ['scrub FOLDER', 'reads everything in an archive again and says what is damaged or missing'],
  [
    'backup FOLDER COPY',
    'copies an archive, also while it is served; again, only what is new; scrub COPY says whether the copy is whole',
  ],
  ['serve', 'keeps an archive and serves it; README.md lists its settings'],
  ['verify PACK', 'checks an evidence pack, a ZIP or the folder it was unpacked into, and says what holds'],
];

const OPTIONS: readonly (readonly [string, string])[] = [
  ['--json FILE', 'writes the report for programs'],
  ['--html DIR', 'writes a report to look at: a folder that opens in a browser without a server'],
  ['--pdf FILE', 'writes a report to print and file'],
  ['--pages 3-17', 'compares these pages only'],
  ['--for plates', 'the revision is about to be made into plates: a picture that is too coarse stops it'],
  [
    '--imposed',
    'REVISION is imposed sheets, one page a side, or their plates, one for each ink, as files, a folder, a ZIP or a PDF: folded and compared',
  ],
  ['--plan FILE', 'with --imposed: which page stands where, as witnessleaf-plan/1'],
  [
    '--fold 16',
    'with --imposed: pages of a section, or its folds such as “R>L, T>B, L>R”; found from the sheets otherwise',
  ],
  ['--bound sewn', 'with --fold: sewn, perfect-bound (sections in sequence) or saddle-stitched (nested)'],
  [
    '--working sheetwise',
    'with --fold: sheetwise; sheetwise-tumbled, the back on its head; or work-and-turn or work-and-tumble, one forme for both sides',
  ],
  ['--save-plan FILE', 'with --imposed: writes the plan, to be looked at and given the next time'],
  ['--tolerances FILE', 'a JSON object of tolerances that differ from those below'],
  ['--kept DIR', 'keeps what was read in DIR, so that the next comparison is quicker'],
  ['--workers N', 'pages that are worked on at the same time; by default as many as there are cores'],
  ['--seen FILE', 'with verify: a head of the archive’s log that you have seen, which the pack must continue'],
  ['--known FINGERPRINT', 'with verify: a key or certificate that you know, which must be in the pack; again for more'],
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
  ['Lpi', 'lines an inch'],
  ['Deg', 'degrees'],
  ['Mm', 'mm'],
];

/** The whole help: uses, options, exit status, and every tolerance with its default, unit, range and reason. */
export function helpLines(outlet: Outlet, more: readonly ClientCommand[]): readonly string[] {
  const width = Math.min(100, outlet.columns - 1);
  const heading = (text: string): readonly string[] => ['', inked(outlet, text, 'strong')];
  return [
    ...wrap('Witness Leaf compares a later file of a photo book with the dummy that was signed.', width),
    ...heading('Use'),
    ...columns(USES, 25, width),
    ...heading('With compare'),
    ...columns(OPTIONS, 20, width),
    ...heading('Keys, and an archive over the network'),
    ...more.flatMap((command) => commandLines(command, width)),
    ...heading('Exit status'),
    ...columns(
      [
        ['0', 'the revision matches the dummy; the archive is whole; everything in the pack holds'],
        [
          '1',
          'there are findings that stop the plates or want a look; something in the archive is damaged or missing, or not copied; something in the pack does not hold',
        ],
        ['2', 'it could not be done, or not all of it; the reason is on standard error'],
      ],
      3,
      width,
    ),
    ...heading('Tolerances'),
    ...(Object.keys(TOLERANCE_TABLE) as ToleranceName[]).flatMap((name) => toleranceLines(name, width)),
  ];
}

function commandLines({ words, operands, says, options }: ClientCommand, width: number): readonly string[] {
  const rows = Object.entries(options).map(([name, option]): readonly [string, string] => [
    `--${name} ${option.takes ?? ''}`.trim(),
    `${option.says}${option.needed === true ? ' (needed)' : ''}`,
  ]);
  return [
    ...columns([[[words, ...operands].join(' '), says]], 25, width),
    ...columns(rows, 23, width - 2).map((line) => `  ${line}`),
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
