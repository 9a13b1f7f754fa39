import { SIGNATURE_SIDE } from '../../../src/model/index.ts';
import type { PageSignature, PlacedPicture, Word } from '../../../src/model/index.ts';
import type { PageView } from '../../../src/comparing/pairing/page-view.ts';

const SIDE = SIGNATURE_SIDE;

/** A repeatable stream of numbers from 0 to 1. @source mulberry32, public domain, common practice */
export function chanceFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** A picture as pages have them: soft patches of colour over a sloping ground; another one for each seed. */
export function pictureSignature(seed: number): PageSignature {
  const chance = chanceFrom(seed * 7919 + 13);
  const ground = [chance() * 255, chance() * 255, chance() * 255];
  const slope = [chance() - 0.5, chance() - 0.5];
  const patches = Array.from({ length: 14 }, () => ({
    x: chance() * SIDE,
    y: chance() * SIDE,
    size: 1.5 + chance() * 7,
    colour: [chance() * 255, chance() * 255, chance() * 255],
  }));
  return signatureOf((x, y) => {
    const colour = ground.map((value) => value + 60 * (slope[0]! * (x / SIDE - 0.5) + slope[1]! * (y / SIDE - 0.5)));
    for (const patch of patches) {
      const weight = Math.exp(-((x - patch.x) ** 2 + (y - patch.y) ** 2) / (2 * patch.size ** 2));
      patch.colour.forEach((value, channel) => (colour[channel]! += weight * (value - colour[channel]!)));
    }
    return colour;
  });
}

/** Lines of type on paper: every page of type looks like it, but for the ends of its paragraphs. */
export function typeSignature(seed: number): PageSignature {
  const chance = chanceFrom(seed * 104729 + 5);
  const ends = Array.from({ length: SIDE }, () => (chance() < 0.25 ? 6 + chance() * 18 : 28));
  return signatureOf((x, y) => {
    const inked = x >= 4 && x < ends[y]! && y >= 4 && y < 28;
    return inked ? [205 + 8 * chance(), 205 + 8 * chance(), 205 + 8 * chance()] : [255, 255, 255];
  });
}

export function evenSignature(red: number, green: number, blue: number): PageSignature {
  return signatureOf(() => [red, green, blue]);
}

/** Every cell's colour, each from 0 to 255; clipped and rounded. */
export function signatureOf(colourAt: (x: number, y: number) => readonly number[]): PageSignature {
  const cells = new Uint8Array(SIDE * SIDE * 3);
  for (let y = 0; y < SIDE; y++) {
    for (let x = 0; x < SIDE; x++) {
      colourAt(x, y).forEach((value, channel) => {
        cells[3 * (y * SIDE + x) + channel] = Math.round(Math.min(255, Math.max(0, value)));
      });
    }
  }
  return { cells };
}

/** The same cells with another colour each. */
export function recolour(
  signature: PageSignature,
  change: (rgb: readonly [number, number, number], x: number, y: number) => readonly number[],
): PageSignature {
  return signatureOf((x, y) => {
    const at = 3 * (y * SIDE + x);
    return change([signature.cells[at]!, signature.cells[at + 1]!, signature.cells[at + 2]!], x, y);
  });
}

/** What a conversion may do at its worst: gamma, less contrast, channels mixed, colours dulled, a cast, noise of a level. */
export function convert(signature: PageSignature, seed: number): PageSignature {
  const chance = chanceFrom(seed);
  return recolour(signature, (rgb) => {
    const grey = 0.3 * rgb[0] + 0.59 * rgb[1] + 0.11 * rgb[2];
    return rgb.map((value, channel) => {
      const dulled = grey + 0.65 * (value - grey) + 0.06 * (rgb[(channel + 1) % 3]! - grey);
      const toned = 255 * (Math.max(0, dulled) / 255) ** 1.15;
      return 22 + toned * 0.86 + [4, 0, -5][channel]! + 2 * (chance() - 0.5);
    });
  });
}

let made = 0;

/** A page that is drawn and that no other page equals, unless told otherwise. */
export function pageView(given: Partial<PageView> = {}): PageView {
  made++;
  return {
    pageNumber: 1,
    contentHash: `content ${made}`,
    trimmed: { width: 240, height: 300 },
    pictures: [],
    words: [],
    signature: null,
    blank: false,
    ...given,
  };
}

/** Pages numbered as they stand. */
export function fileOf(pages: readonly PageView[]): PageView[] {
  return pages.map((page, index) => ({ ...page, pageNumber: index + 1 }));
}

export function wordsOf(text: string, turnDeg = 0): Word[] {
  return text.split(' ').map((word, index) => ({
    text: word,
    box: { x: 20 + 10 * (index % 12), y: 20 + 6 * Math.floor(index / 12), width: 9, height: 4 },
    origin: { x: 20 + 10 * (index % 12), y: 24 + 6 * Math.floor(index / 12) },
    turnDeg,
    sizePt: 10,
    font: 'Serif',
  }));
}

/** Running text of made-up words; pages of one seed read the same. */
export function proseOf(seed: number, count: number): Word[] {
  const chance = chanceFrom(seed * 31 + 7);
  const syllables = ['ba', 'ner', 'lo', 'tis', 'mar', 'che', 'dun', 'vi', 'sol', 'quen', 'ar', 'pe'];
  const word = () =>
    Array.from({ length: 1 + Math.floor(chance() * 3) }, () => syllables[Math.floor(chance() * 12)]).join('');
  return wordsOf(Array.from({ length: count }, word).join(' '));
}

export function placedPicture(samplesHash: string, window = { x: 20, y: 20, width: 200, height: 150 }): PlacedPicture {
  return {
    index: 0,
    origin: 'image',
    samplesHash,
    pixelWidth: 800,
    pixelHeight: 600,
    bitsPerComponent: 8,
    colourSpace: 'DeviceRGB',
    filter: 'DCTDecode',
    matrix: [window.width, 0, 0, window.height, window.x, window.y],
    placed: window,
    window,
    effectivePpi: 100,
    bleeds: false,
    softMasked: false,
    pieces: 1,
  };
}
