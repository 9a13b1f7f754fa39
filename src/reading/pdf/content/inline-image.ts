import { constants, inflateSync } from 'node:zlib';
import { IS_WHITE } from './characters.ts';
import { isName } from './operand.ts';
import type { ContentDict, ContentName, InlineImage, Operand } from './operand.ts';
import type { Tokens } from './tokens.ts';

const KEYS: Readonly<Record<string, string>> = {
  BPC: 'BitsPerComponent',
  CS: 'ColorSpace',
  D: 'Decode',
  DP: 'DecodeParms',
  F: 'Filter',
  H: 'Height',
  IM: 'ImageMask',
  I: 'Interpolate',
  L: 'Length',
  W: 'Width',
};
const COLOUR_SPACES: Readonly<Record<string, string>> = {
  G: 'DeviceGray',
  RGB: 'DeviceRGB',
  CMYK: 'DeviceCMYK',
  I: 'Indexed',
};
const FILTERS: Readonly<Record<string, string>> = {
  AHx: 'ASCIIHexDecode',
  A85: 'ASCII85Decode',
  LZW: 'LZWDecode',
  Fl: 'FlateDecode',
  RL: 'RunLengthDecode',
  CCF: 'CCITTFaxDecode',
  DCT: 'DCTDecode',
};
const COMPONENTS: Readonly<Record<string, number>> = { DeviceGray: 1, Indexed: 1, DeviceRGB: 3, DeviceCMYK: 4 };
/** How far the text after a supposed EI is looked at. */
const LOOK_AHEAD = 16;

/**
 * Reads an inline image after its BI, up to and with its EI.
 *
 * @param readDict  reads keys and values up to the given keyword
 * @source ISO 32000-2 8.9.7, table 91 and 92
 */
export function readInlineImage(tokens: Tokens, readDict: (until: string) => ContentDict): InlineImage {
  const dict = inFull(readDict('ID'));
  const { source } = tokens;
  const start = tokens.at + (IS_WHITE[source[tokens.at] ?? 1] === 1 ? 1 : 0);
  const { end, after } = findEnd(source, start, dict);
  tokens.at = after;
  return { dict, data: source.subarray(start, end) };
}

function inFull(dict: ContentDict): ContentDict {
  const entries = new Map<string, Operand>();
  for (const [short, value] of dict.entries) {
    const key = KEYS[short] ?? short;
    if (key === 'ColorSpace') entries.set(key, renamed(value, COLOUR_SPACES));
    else if (key === 'Filter') entries.set(key, renamed(value, FILTERS));
    else entries.set(key, value);
  }
  return { kind: 'dict', entries };
}

function renamed(value: Operand, names: Readonly<Record<string, string>>): Operand {
  if (isName(value)) return { kind: 'name', name: names[value.name] ?? value.name };
  if (Array.isArray(value)) return (value as readonly Operand[]).map((element) => renamed(element, names));
  return value;
}

interface End {
  readonly end: number;
  readonly after: number;
}

function findEnd(source: Uint8Array, start: number, dict: ContentDict): End {
  for (const length of knownLengths(source, start, dict)) {
    const end = start + length;
    let at = end;
    while (at < source.length && at < end + LOOK_AHEAD && IS_WHITE[source[at]!] === 1) at += 1;
    if (isEnd(source, at)) return { end, after: at + 2 };
  }
  for (let at = source.indexOf(0x45, start); at !== -1; at = source.indexOf(0x45, at + 1)) {
    if (!isEnd(source, at) || !looksLikeContent(source, at + 2)) continue;
    const isApart = at > start && IS_WHITE[source[at - 1]!] === 1;
    if (isApart) return { end: at - 1, after: at + 2 };
  }
  return { end: source.length, after: source.length };
}

/** Lengths of the data that the dictionary or the data themselves tell, most trusted first. */
function* knownLengths(source: Uint8Array, start: number, dict: ContentDict): Generator<number> {
  const given = dict.entries.get('Length');
  if (typeof given === 'number' && given >= 0) yield given;
  const filter = firstFilter(dict);
  if (filter === undefined) {
    const samples = sampleBytes(dict);
    if (samples !== null) yield samples;
  } else if (filter === 'ASCII85Decode') {
    const tilde = source.indexOf(0x7e, start);
    if (tilde !== -1 && source[tilde + 1] === 0x3e) yield tilde + 2 - start;
  } else if (filter === 'ASCIIHexDecode') {
    const end = source.indexOf(0x3e, start);
    if (end !== -1) yield end + 1 - start;
  } else if (filter === 'FlateDecode') {
    const length = deflatedLength(source.subarray(start));
    if (length !== null) yield length;
  }
}

function firstFilter(dict: ContentDict): string | undefined {
  const filter = dict.entries.get('Filter');
  const first = Array.isArray(filter) ? (filter as readonly Operand[])[0] : filter;
  return isName(first) ? first.name : undefined;
}

function sampleBytes({ entries }: ContentDict): number | null {
  const width = entries.get('Width');
  const height = entries.get('Height');
  if (typeof width !== 'number' || typeof height !== 'number') return null;
  const isMask = entries.get('ImageMask') === true;
  const bits = isMask ? 1 : entries.get('BitsPerComponent');
  const space = entries.get('ColorSpace');
  const family = Array.isArray(space) ? (space as readonly Operand[])[0] : space;
  const components = isMask ? 1 : COMPONENTS[isName(family) ? (family satisfies ContentName).name : ''];
  if (typeof bits !== 'number' || components === undefined) return null;
  const bytes = Math.ceil((width * components * bits) / 8) * height;
  return Number.isSafeInteger(bytes) && bytes >= 0 ? bytes : null;
}

/** How many bytes a deflated block takes, told by the inflater itself. */
function deflatedLength(coded: Uint8Array): number | null {
  try {
    const told: unknown = inflateSync(coded, { info: true, maxOutputLength: 2 ** 26, finishFlush: constants.Z_FINISH });
    return (told as { readonly engine: { readonly bytesWritten: number } }).engine.bytesWritten;
  } catch {
    return null;
  }
}

function isEnd(source: Uint8Array, at: number): boolean {
  return source[at] === 0x45 && source[at + 1] === 0x49 && (at + 2 >= source.length || IS_WHITE[source[at + 2]!] === 1);
}

/** Picture data contain EI by chance; what follows a true one is text. */
function looksLikeContent(source: Uint8Array, from: number): boolean {
  for (let at = from; at < Math.min(source.length, from + LOOK_AHEAD); at += 1) {
    const byte = source[at]!;
    if (byte > 0x7e || (byte < 0x20 && IS_WHITE[byte] === 0) || byte === 0) return false;
  }
  return true;
}
