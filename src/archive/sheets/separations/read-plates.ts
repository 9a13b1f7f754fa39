import { createHash } from 'node:crypto';
import { join } from 'node:path';
import type { CoarseScreens, Mm, Ppi, ProcessInk } from '../../../model/index.ts';
import { isProcessInk, MM_PER_INCH } from '../../../model/index.ts';
import type { JudgedPlates, PlateSet, PlateShift, SetPlate } from '../../../plates/index.ts';
import { plateSets } from '../../../plates/index.ts';
import type { InkPage, SheetCut, TonesOnDisk } from '../../../reading/index.ts';
import { fileIdentity } from '../../../reading/pool/index.ts';
import type { AssembledBook, PageSource } from '../../check-request.ts';
import type { ReadingTools } from '../../read-file.ts';
import { runJob } from '../../read-file.ts';
import type { SheetsSource } from '../sheets-source.ts';
import type { FoundPlate, ReadPlate, ReadPlates } from './find-plates.ts';
import { TONES_PPI } from './find-plates.ts';

/** Sheets are looked at as coarsely as this, hairlines too. */
export const LOOK_PPI: Ppi = 4 * MM_PER_INCH;
const PIXELS_A_SHARE = 1e9;

/**
 * Reads the plates of sheets and puts them together into sides.
 *
 * @param onDone  told how many more plates are done, of how many
 * @throws {Refusal} malformed: plates that cannot be put together; unreadable, too-large, not-found: a plate
 */
export async function readPlates(
  found: readonly FoundPlate[],
  tools: ReadingTools,
  scratch: string,
  onDone: (done: number, total: number) => void,
): Promise<SheetsSource> {
  const sets = plateSets(found);
  const read = await Promise.all(
    sets.map(async (set, nth): Promise<PlateSet<ReadPlate>> => {
      const own = async (plates: readonly SetPlate<FoundPlate>[], part: string) =>
        Promise.all(
          plates.map(async ({ plate, ink }, index): Promise<SetPlate<ReadPlate>> => {
            const at = join(scratch, `plate-${nth + 1}-${part}-${index}`);
            const plateRead = await readOne(tools, plate, tonesOf(set), at);
            onDone(1, found.length);
            return { ink, plate: plateRead };
          }),
        );
      return {
        ...set,
        plates: await registered(await own(set.plates, 'ink'), tools),
        doubled: await own(set.doubled, 'doubled'),
        strange: await own(set.strange, 'strange'),
      };
    }),
  );
  const plates = { sets: read };
  return {
    plates,
    identity: identityOf(
      read.flatMap((set) => [...set.plates, ...set.doubled, ...set.strange].map(({ plate }) => plate)),
    ),
    book: await sidesBook(plates, tools, scratch),
    enlarged: null,
    fold: (_, cuts, printedOn) => foldPlates(plates, cuts, printedOn, tools, scratch),
  };
}

/**
 * The pixels of a side's tones: by a whole number of the first plate's pixels each, so that they lie exactly under them, and
 * at least as many as pages are cut out of.
 */
function tonesOf({ plates: [first] }: PlateSet<FoundPlate>): Omit<TonesOnDisk, 'path'> {
  const { ppi, pixelWidth, pixelHeight } = first!.plate.header;
  const times = Math.max(1, Math.floor(Math.min(ppi.x, ppi.y) / TONES_PPI + 0.001));
  return { width: Math.max(1, Math.round(pixelWidth / times)), height: Math.max(1, Math.round(pixelHeight / times)) };
}

async function readOne(
  tools: ReadingTools,
  plate: FoundPlate,
  tonesPixels: Omit<TonesOnDisk, 'path'>,
  at: string,
): Promise<ReadPlate> {
  const { lend, file, page, header, width, height } = plate;
  const pixels = (mm: Mm): number => Math.max(1, Math.round((mm * LOOK_PPI) / MM_PER_INCH));
  const tones = { path: `${at}.tones`, ...tonesPixels };
  const look = { path: `${at}.look`, width: pixels(width), height: pixels(height) };
  const shares = 1 + (header.pixelWidth * header.pixelHeight) / PIXELS_A_SHARE;
  const { limits } = tools;
  const seen = await lend((path) =>
    runJob(tools, { do: 'plate', path, name: file, page, header, tones, look, limits }, shares),
  );
  return { ...plate, ...seen, tones, look, shift: null };
}

/** The plates of a side with how they lie on each other. */
async function registered(
  plates: readonly SetPlate<ReadPlate>[],
  tools: ReadingTools,
): Promise<readonly SetPlate<ReadPlate>[]> {
  const looks = plates.map(({ plate }) => plate.look);
  const shifts = await runJob(tools, { do: 'register', looks, pxPerMm: LOOK_PPI / MM_PER_INCH }, looks.length);
  return plates.map(({ ink, plate }, index) => ({ ink, plate: { ...plate, shift: shifts[index]! } }));
}

/** Of many files: the hash of their list as `sha256sum` prints it, by name. Null where they are pages of one. */
function identityOf(plates: readonly ReadPlate[]): SheetsSource['identity'] {
  const lines = plates
    .map(({ sha256, file }) => `${sha256}  ${file}\n`)
    .sort((one, other) => (one.slice(66) < other.slice(66) ? -1 : 1));
  return {
    sha256: createHash('sha256').update(lines.join('')).digest('hex'),
    bytes: plates.reduce((sum, { bytes }) => sum + bytes, 0),
  };
}

type ShiftedTones = NonNullable<InkPage['inks'][ProcessInk]>;

/**
 * The four inks of a side as they were sent, but laid on each other: where one is out of register, pages are where most inks
 * have them. Spot colours are kept apart.
 */
function inksAsSent(set: PlateSet<ReadPlate>): InkPage['inks'] {
  return Object.fromEntries(
    set.plates.flatMap(({ ink, plate: { look, shift } }): [ProcessInk, ShiftedTones][] =>
      isProcessInk(ink) ? [[ink, shifted(look, shift ?? { x: 0, y: 0 }, set)]] : [],
    ),
  );
}

/** Tones of a plate that lies so far beside its place. */
function shifted(tones: TonesOnDisk, { x, y }: PlateShift, { width }: PlateSet): ShiftedTones {
  const px = (mm: Mm): number => Math.round((mm * tones.width) / width);
  return { ...tones, shiftXpx: px(x), shiftYpx: px(y) };
}

/** The same with what is wrong between plates put right, so that it is not told again of everything on the pages. */
function inksPutRight(set: PlateSet<ReadPlate>, printed: JudgedPlates['printed'][number]): InkPage['inks'] {
  const inks = [...printed].map(([ink, { plate, shift }]): [ProcessInk, ShiftedTones] => [
    ink,
    shifted(set.plates[plate]!.plate.tones, shift, set),
  ]);
  return inks.length === 0 ? inksAsSent(set) : Object.fromEntries(inks);
}

/** Of a set, what workers are to know of it. */
function sizeOf({ width, height }: PlateSet): InkPage['sheet'] {
  return { width, height };
}

async function sidesBook({ sets }: ReadPlates, tools: ReadingTools, scratch: string): Promise<AssembledBook> {
  const pages = sets.map((set): Written => ({
    to: join(scratch, `sides-${sets.indexOf(set) + 1}.pdf`),
    page: {
      inks: inksAsSent(set),
      sheet: sizeOf(set),
      box: { x: 0, y: 0, width: set.width, height: set.height },
      turnDeg: 0,
    },
  }));
  return writeBook(pages, tools);
}

async function foldPlates(
  { sets }: ReadPlates,
  cuts: readonly SheetCut[],
  printedOn: ReadonlyMap<number, JudgedPlates['printed'][number]>,
  tools: ReadingTools,
  scratch: string,
): Promise<AssembledBook> {
  const pages = cuts.map(({ filePage, box, turnDeg }, index): Written => {
    const set = sets[filePage - 1]!;
    const printed = printedOn.get(filePage) ?? new Map();
    return {
      to: join(scratch, `folded-${index + 1}.pdf`),
      page: { inks: inksPutRight(set, printed), sheet: sizeOf(set), box, turnDeg },
      coarse: coarseOf(printed),
    };
  });
  return writeBook(pages, tools);
}

function coarseOf(printed: JudgedPlates['printed'][number]): CoarseScreens {
  return Object.fromEntries(
    [...printed].flatMap(([ink, { coarseLpi }]) => (coarseLpi === null ? [] : [[ink, coarseLpi] as const])),
  );
}

interface Written {
  readonly to: string;
  readonly page: InkPage;
  readonly coarse?: CoarseScreens;
}

async function writeBook(pages: readonly Written[], tools: ReadingTools): Promise<AssembledBook> {
  const sources = await Promise.all(
    pages.map(async ({ to, page, coarse = {} }): Promise<PageSource> => {
      await runJob(tools, { do: 'ink-page', page, to });
      return { path: to, ...(await fileIdentity(to)), pageNumber: 1, coarse };
    }),
  );
  const sha256 = createHash('sha256')
    .update(sources.map((source) => source.sha256).join('\n'))
    .digest('hex');
  const bytes = sources.reduce((sum, source) => sum + source.bytes, 0);
  return { identity: { sha256, bytes, pages: sources.length }, pages: sources };
}
