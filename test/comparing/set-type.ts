import type { Word } from '../../src/model/index.ts';
import type { Patch, Scene } from './made-up-scenes.ts';
import { even } from './made-up-scenes.ts';
import { chanceFrom } from './pairing/made-up-pages.ts';

/** A line of made-up type. Lengths in mm. */
export interface TypeLine {
  readonly text: string;
  readonly x: number;
  readonly baseline: number;
  readonly sizePt?: number;
  /** The name that the file gives. */
  readonly font?: string;
  /** What the letters look like: an alphabet of its own for each name. */
  readonly shapes?: string;
  readonly ink?: Scene;
}

/** What setting a line gives: its words as a file tells them, and its letters as they are drawn. */
export interface SetLine {
  readonly words: readonly Word[];
  readonly letters: readonly Patch[];
}

const ADVANCE = 0.6;
const COLUMNS = 5;
const ROWS = 7;

/**
 * Sets a line in an alphabet of square dots, 5 wide and 7 high, that no typefounder ever cut: two letters never look the
 * same, and an accent is a dot above its letter.
 */
export function setLine(line: TypeLine): SetLine {
  const { text, x, baseline, sizePt = 10, font = 'Serif', shapes = 'dots', ink = even(0, 0, 0) } = line;
  const em = (sizePt * 25.4) / 72;
  const words: Word[] = [];
  const letters: Patch[] = [];
  let at = x;
  for (const word of text.split(' ')) {
    const from = at;
    for (const letter of word) {
      letters.push(...dotsOf(letter, shapes, at, baseline, em).map((box) => ({ box, scene: ink })));
      at += ADVANCE * em;
    }
    words.push({
      text: word,
      box: { x: from, y: baseline - 0.95 * em, width: at - from, height: 1.2 * em },
      origin: { x: from, y: baseline },
      turnDeg: 0,
      sizePt,
      font,
    });
    at += ADVANCE * em;
  }
  return { words, letters };
}

function dotsOf(letter: string, shapes: string, x: number, baseline: number, em: number): Patch['box'][] {
  const [plain, ...accents] = letter.normalize('NFD');
  const chance = chanceFrom([...shapes, plain!].reduce((sum, sign) => sum * 31 + sign.codePointAt(0)!, 7));
  const dot = em / 10;
  const boxes: Patch['box'][] = [];
  for (let row = 0; row < ROWS; row++) {
    for (let column = 0; column < COLUMNS; column++) {
      if (chance() < 0.5) continue;
      boxes.push({ x: x + column * dot, y: baseline - (ROWS - row) * dot, width: dot, height: dot });
    }
  }
  if (accents.length > 0) boxes.push({ x: x + 1.5 * dot, y: baseline - 9.4 * dot, width: 2 * dot, height: 1.4 * dot });
  return boxes;
}
