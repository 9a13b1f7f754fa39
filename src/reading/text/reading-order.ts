import type { Mm, Word } from '../../model/index.ts';

/** Words of one line of one block. */
interface Line {
  readonly words: Word[];
  readonly left: Mm;
  readonly right: Mm;
  readonly across: Mm;
  readonly size: Mm;
}

const MM_PER_PT = 25.4 / 72;
/** Baselines closer than this part of the mean of both font sizes make one line: index figures do, lines of text not. */
const SAME_LINE = 0.45;
/** Words of a line further apart than this many font sizes stand in different columns. */
const COLUMN_GAP = 1.8;
/** Lines of a block follow each other within this many font sizes. */
const LINE_STEP = 1.9;
/** Blocks whose tops differ by less stand beside each other. */
const BESIDE_MM = 1;

/**
 * Words by lines, lines by blocks (a column, a caption), blocks from the top and, side by side, from the left. It
 * depends on where the words stand alone, not on the order in which a program happened to write them.
 *
 * @source common practice, no source
 */
export function inReadingOrder(words: readonly Word[]): readonly Word[] {
  const byTurn = new Map<number, Word[]>();
  for (const word of words) byTurn.set(word.turnDeg, [...(byTurn.get(word.turnDeg) ?? []), word]);
  return [...byTurn]
    .sort(([one], [other]) => Math.abs(one) - Math.abs(other) || one - other)
    .flatMap(([turnDeg, turned]) => blocksInOrder(linesOf(turned, turnDeg)).flatMap((line) => line.words));
}

function linesOf(words: readonly Word[], turnDeg: number): readonly Line[] {
  const [x, y] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)];
  const laid = words.map((word) => {
    const left = word.origin.x * x + word.origin.y * y;
    const length = Math.abs(word.box.width * x) + Math.abs(word.box.height * y);
    return {
      word,
      left,
      right: left + length,
      across: word.origin.y * x - word.origin.x * y,
      size: word.sizePt * MM_PER_PT,
    };
  });
  laid.sort((one, other) => one.across - other.across || one.left - other.left);
  const bands: (typeof laid)[] = [];
  for (const next of laid) {
    const band = bands.at(-1);
    const last = band?.at(-1);
    if (
      band !== undefined &&
      last !== undefined &&
      next.across - last.across < (SAME_LINE * (last.size + next.size)) / 2
    ) {
      band.push(next);
    } else bands.push([next]);
  }
  return bands.flatMap((band) => {
    band.sort((one, other) => one.left - other.left);
    const lines: Line[] = [];
    for (const { word, left, right, across, size } of band) {
      const line = lines.at(-1);
      if (line !== undefined && left - line.right < COLUMN_GAP * Math.max(size, line.size)) {
        line.words.push(word);
        lines[lines.length - 1] = { ...line, right: Math.max(line.right, right), size: Math.max(line.size, size) };
      } else lines.push({ words: [word], left, right, across, size });
    }
    return lines;
  });
}

/** @param lines  from the top */
function blocksInOrder(lines: readonly Line[]): readonly Line[] {
  const blocks: Line[][] = [];
  for (const line of lines) {
    const block = blocks.find((candidate) => {
      const last = candidate.at(-1);
      return last !== undefined && follows(last, line);
    });
    if (block === undefined) blocks.push([line]);
    else block.push(line);
  }
  const rows: Line[][][] = [];
  for (const block of blocks) {
    const row = rows.at(-1);
    if (row !== undefined && topOf(block) - topOf(row[0] ?? block) < BESIDE_MM) row.push(block);
    else rows.push([block]);
  }
  return rows.flatMap((row) => row.sort((one, other) => leftOf(one) - leftOf(other)).flat(1));
}

function follows(last: Line, next: Line): boolean {
  const step = next.across - last.across;
  const size = Math.max(last.size, next.size);
  const shared = Math.min(last.right, next.right) - Math.max(last.left, next.left);
  return step > SAME_LINE * size && step < LINE_STEP * size && shared > 0;
}

function topOf(block: readonly Line[]): Mm {
  return block[0]?.across ?? 0;
}

function leftOf(block: readonly Line[]): Mm {
  return block[0]?.left ?? 0;
}
