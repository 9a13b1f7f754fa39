import type { ProcessInk } from '../../model/index.ts';

/** What a plate's file name says. */
export interface PlateName {
  /** The name without ink and separators, lower case: what the plates of one side have in common. */
  readonly set: string;
  /** The same as it was written. */
  readonly setName: string;
  /** A process ink, or a spot colour by its name; null where the name tells none. */
  readonly ink: string | null;
}

/** How the process inks are called in file names. Common practice, no source. */
const INK_WORDS: Readonly<Record<ProcessInk, readonly string[]>> = {
  cyan: ['cyan', 'cy', 'c', 'processcyan'],
  magenta: ['magenta', 'mag', 'ma', 'm', 'processmagenta'],
  yellow: ['yellow', 'yel', 'ylw', 'ye', 'y', 'processyellow'],
  black: ['black', 'blk', 'bk', 'bl', 'k', 'key', 'processblack'],
};

const EXTENSION = /\.(tiff?|tf8)$/i;
/** The last bracketed part, where screeners put the ink: `sheet1 (Cyan).tif`. */
const BRACKETED = /^(.*?)[\s._-]*[([{]([^()[\]{}]+)[)\]}]$/;
const BETWEEN = /[\s._/-]+/;

/** The process ink that a word means; null where it means none. */
export function processInk(word: string): ProcessInk | null {
  const plain = word.toLowerCase().replace(/[\s._-]/g, '');
  const found = Object.entries(INK_WORDS).find(([, words]) => words.includes(plain));
  return found === undefined ? null : (found[0] as ProcessInk);
}

/**
 * Reads names of plates: the ink stands in brackets at the end, or is the last word, or the first; words are set apart by
 * `_`, `-`, `.`, a space, or a folder. Any name in brackets is an ink. A last word that is no process ink is a spot colour where the
 * words before it name a set that has process inks.
 *
 * @param files  file names, with folders where they lie in several, `/` between
 */
export function readPlateNames(files: readonly string[]): ReadonlyMap<string, PlateName> {
  const names = new Map<string, PlateName>();
  const untold: string[] = [];
  for (const file of files) {
    const bare = file.replace(EXTENSION, '');
    const told = byBrackets(bare) ?? byWord(bare);
    if (told === null) untold.push(file);
    else names.set(file, told);
  }
  const sets = new Set([...names.values()].map(({ set }) => set));
  for (const file of untold) names.set(file, spotOf(file.replace(EXTENSION, ''), sets));
  return names;
}

function byBrackets(bare: string): PlateName | null {
  const match = BRACKETED.exec(bare);
  if (match === null) return null;
  const [, setName, ink] = match as unknown as [string, string, string];
  return { ...named(setName), ink: processInk(ink) ?? ink.trim() };
}

function byWord(bare: string): PlateName | null {
  const words = bare.split(BETWEEN).filter((word) => word !== '');
  const [first, last] = [words[0], words.at(-1)];
  if (words.length === 1) {
    const ink = processInk(bare);
    return ink === null ? null : { ...named(''), ink };
  }
  // a single letter after a space may be the end of a spot colour's name
  const letterAfterSpace = last?.length === 1 && /\s\S$/.test(bare);
  const atEnd = last === undefined || letterAfterSpace ? null : processInk(last);
  if (atEnd !== null) return { ...named(bare.slice(0, bare.length - last!.length)), ink: atEnd };
  const atStart = first === undefined ? null : processInk(first);
  return atStart === null ? null : { ...named(bare.slice(first!.length)), ink: atStart };
}

/** The longest set that the name begins with; what is left is the spot colour. */
function spotOf(bare: string, sets: ReadonlySet<string>): PlateName {
  for (let end = bare.length - 1; end > 0; end--) {
    if (!/[\s._/-]/.test(bare[end]!)) continue;
    const head = named(bare.slice(0, end));
    const ink = bare.slice(end + 1).trim();
    if (ink !== '' && sets.has(head.set)) return { ...head, ink };
  }
  return { ...named(bare), ink: null };
}

function named(text: string): Pick<PlateName, 'set' | 'setName'> {
  const setName = text.replace(/^[\s._/-]+|[\s._/-]+$/g, '');
  return { setName, set: setName.toLowerCase().split(BETWEEN).join(' ') };
}
