import type { Mm } from '../../model/index.ts';
import { PROCESS_INKS, Refusal, isProcessInk } from '../../model/index.ts';
import { processInk, readPlateNames } from './plate-name.ts';

/** A plate as far as its name and header tell it. */
export interface NamedPlate {
  /** File name, or page of a file, as a person finds it again. */
  readonly file: string;
  readonly width: Mm;
  readonly height: Mm;
  /** What the file itself says its ink is; null where it says nothing. */
  readonly inkName: string | null;
  /** Of which side the file says it is; null where its name has to tell, and its ink. */
  readonly setName: string | null;
}

/** A plate that is taken for an ink of a side. */
export interface SetPlate<P extends NamedPlate = NamedPlate> {
  readonly plate: P;
  /** A process ink, or a spot colour by its name. */
  readonly ink: string;
}

/** The plates of one side of a sheet. */
export interface PlateSet<P extends NamedPlate = NamedPlate> {
  /** What their names have in common, as it was written; may be empty. */
  readonly name: string;
  readonly width: Mm;
  readonly height: Mm;
  /** One for each ink: process inks in their order, then spot colours by name. */
  readonly plates: readonly SetPlate<P>[];
  /** Further files for an ink that the set has. */
  readonly doubled: readonly SetPlate<P>[];
  /** Of another size than most of the set. */
  readonly strange: readonly SetPlate<P>[];
}

/** Sizes that differ by less are one size, rounded otherwise. */
const SAME_SIZE_MM = 0.5;
const SIDE_WORDS: readonly (readonly string[])[] = [
  ['front', 'recto', 'face', 'outer', 'f'],
  ['back', 'verso', 'rear', 'inner', 'b'],
];

/**
 * Puts plates together into the sides of sheets: by what their names have in common, then by size. Sides stand in the
 * order of their names, numbers by their value and front before back.
 *
 * @throws {Refusal} malformed: a plate whose ink neither its name nor its file tells, or sets in which no size prevails
 */
export function plateSets<P extends NamedPlate>(plates: readonly P[]): readonly PlateSet<P>[] {
  const names = readPlateNames(plates.flatMap(({ file, setName }) => (setName === null ? [file] : [])));
  const groups = new Map<string, { readonly setName: string; readonly plates: SetPlate<P>[] }>();
  for (const plate of plates) {
    const named = names.get(plate.file);
    const { set, setName } = named ?? { set: plate.setName!, setName: plate.setName! };
    const own = plate.inkName === null ? null : (processInk(plate.inkName) ?? plate.inkName);
    const ink = named?.ink ?? own;
    if (ink === null) {
      throw new Refusal('malformed', {
        pointer: plate.file,
        expected: 'a name that ends in its ink, such as sheet1_front(Cyan).tif or sheet1_front_C.tif',
        found: 'none',
      });
    }
    const group = groups.get(set) ?? { setName, plates: [] };
    groups.set(set, group);
    group.plates.push({ plate, ink });
  }
  return [...groups.entries()]
    .sort(([one], [other]) => inOrder(one, other))
    .map(([, group]) => setOf(group.setName, group.plates));
}

function setOf<P extends NamedPlate>(name: string, all: readonly SetPlate<P>[]): PlateSet<P> {
  const alike = (one: NamedPlate, other: NamedPlate): boolean =>
    Math.abs(one.width - other.width) <= SAME_SIZE_MM && Math.abs(one.height - other.height) <= SAME_SIZE_MM;
  const votes = all.map(({ plate }) => all.filter((other) => alike(plate, other.plate)).length);
  const most = Math.max(...votes);
  const usual = all[votes.indexOf(most)]!.plate;
  const other = all.find(({ plate }, index) => votes[index] === most && !alike(plate, usual));
  if (other !== undefined) {
    throw new Refusal('malformed', {
      pointer: name === '' ? 'plates' : name,
      expected: 'plates of one size',
      found: `${usual.file} with ${sizeWords(usual)} and ${other.plate.file} with ${sizeWords(other.plate)}`,
    });
  }
  const fitting = all.filter(({ plate }) => alike(plate, usual));
  const taken = new Map<string, SetPlate<P>>();
  const doubled: SetPlate<P>[] = [];
  for (const one of fitting) {
    if (taken.has(one.ink)) doubled.push(one);
    else taken.set(one.ink, one);
  }
  const { width, height } = usual;
  const plates = [...taken.values()].sort(
    (one, next) => inkRank(one.ink) - inkRank(next.ink) || inOrder(one.ink, next.ink),
  );
  return { name, width, height, plates, doubled, strange: all.filter(({ plate }) => !alike(plate, usual)) };
}

/** A plate's size, for people. */
export function sizeWords({ width, height }: { readonly width: Mm; readonly height: Mm }): string {
  return `${width.toFixed(1)} × ${height.toFixed(1)} mm`;
}

function inkRank(ink: string): number {
  return isProcessInk(ink) ? PROCESS_INKS.indexOf(ink) : PROCESS_INKS.length;
}

/** By words and numbers, front before back. */
function inOrder(one: string, other: string): number {
  const [a, b] = [parts(one), parts(other)];
  for (let at = 0; at < Math.max(a.length, b.length); at++) {
    const [x, y] = [a[at] ?? '', b[at] ?? ''];
    if (x === y) continue;
    if (typeof x === 'number' && typeof y === 'number') return x - y;
    return String(x) < String(y) ? -1 : 1;
  }
  return 0;
}

function parts(text: string): readonly (string | number)[] {
  const found = text.toLowerCase().match(/\d+|[^\d\s._-]+/g) ?? [];
  return found.map((part) => {
    if (/^\d/.test(part)) return Number(part);
    const side = SIDE_WORDS.findIndex((words) => words.includes(part));
    return side < 0 ? part : ` ${side}`;
  });
}
