/** Neighbouring entries with one fate. Indices from 0; a removed run names where it would stand in `after`, and so on. */
export interface EditRun {
  readonly kind: 'kept' | 'removed' | 'inserted';
  readonly beforeFrom: number;
  readonly afterFrom: number;
  readonly length: number;
}

/**
 * The fewest entries to remove and insert that turn one list into another: words of a page, keys of pages.
 * Between two kept runs there is at most one removed run, and it comes before the inserted one.
 *
 * @source Myers, "An O(ND) difference algorithm and its variations", Algorithmica 1 (1986), section 4b (linear space),
 *   from memory; values in test/standards/sequences
 */
export function shortestEdit(before: readonly string[], after: readonly string[]): EditRun[] {
  // What stands in one list only can never stay: the search leaves it out, which keeps unlike pages quick.
  const numbers = sharedEntries(before, after);
  const left = placesOf(before, numbers);
  const right = placesOf(after, numbers);
  const lists = {
    before: Int32Array.from(left, (place) => numbers.get(before[place]!)!),
    after: Int32Array.from(right, (place) => numbers.get(after[place]!)!),
  };
  const found: Keeps = { before: new Uint8Array(left.length), after: new Uint8Array(right.length) };
  markKept(lists, { beforeFrom: 0, beforeTo: left.length, afterFrom: 0, afterTo: right.length }, found);
  const keeps: Keeps = { before: new Uint8Array(before.length), after: new Uint8Array(after.length) };
  left.forEach((place, index) => (keeps.before[place] = found.before[index]!));
  right.forEach((place, index) => (keeps.after[place] = found.after[index]!));
  return runsFrom(keeps);
}

function sharedEntries(before: readonly string[], after: readonly string[]): ReadonlyMap<string, number> {
  const inAfter = new Set(after);
  const shared = new Set(before.filter((entry) => inAfter.has(entry)));
  return new Map([...shared].map((entry, number) => [entry, number]));
}

function placesOf(list: readonly string[], numbers: ReadonlyMap<string, number>): number[] {
  return [...list.keys()].filter((place) => numbers.has(list[place]!));
}

interface Lists {
  readonly before: Int32Array;
  readonly after: Int32Array;
}

/** 1 for each entry that stays. */
interface Keeps {
  readonly before: Uint8Array;
  readonly after: Uint8Array;
}

interface Stretch {
  readonly beforeFrom: number;
  readonly beforeTo: number;
  readonly afterFrom: number;
  readonly afterTo: number;
}

function markKept(lists: Lists, stretch: Stretch, keeps: Keeps): void {
  let { beforeFrom, beforeTo, afterFrom, afterTo } = stretch;
  while (beforeFrom < beforeTo && afterFrom < afterTo && lists.before[beforeFrom] === lists.after[afterFrom]) {
    keeps.before[beforeFrom++] = 1;
    keeps.after[afterFrom++] = 1;
  }
  while (beforeFrom < beforeTo && afterFrom < afterTo && lists.before[beforeTo - 1] === lists.after[afterTo - 1]) {
    keeps.before[--beforeTo] = 1;
    keeps.after[--afterTo] = 1;
  }
  if (beforeFrom === beforeTo || afterFrom === afterTo) return;
  const { x, y } = meetingPoint(lists, { beforeFrom, beforeTo, afterFrom, afterTo });
  markKept(lists, { beforeFrom, beforeTo: x, afterFrom, afterTo: y }, keeps);
  markKept(lists, { beforeFrom: x, beforeTo, afterFrom: y, afterTo }, keeps);
}

/**
 * A point that some shortest path passes, found where paths from both ends first meet. Neither end of the stretch,
 * because its first entries differ and its last ones too: so both halves are smaller.
 */
function meetingPoint(lists: Lists, stretch: Stretch): { x: number; y: number } {
  const { beforeFrom, afterFrom } = stretch;
  const rows = stretch.beforeTo - beforeFrom;
  const columns = stretch.afterTo - afterFrom;
  const slant = rows - columns;
  const most = Math.ceil((rows + columns) / 2);
  // Furthest row reached on each diagonal (row less column), from the front and, counted backwards, from the back.
  const front = new Int32Array(2 * most + 2).fill(UNREACHED);
  const back = new Int32Array(2 * most + 2).fill(UNREACHED);
  const size = { rows, columns, most };
  const same = (row: number, column: number) => lists.before[beforeFrom + row] === lists.after[afterFrom + column];

  for (let steps = 0; steps <= most; steps++) {
    for (let diagonal = -steps; diagonal <= steps; diagonal += 2) {
      let row = startOn(front, { diagonal, steps, ...size });
      const column = () => row - diagonal;
      while (row >= 0 && row < rows && column() < columns && same(row, column())) row++;
      front[most + diagonal] = row;
      const across = slant - diagonal;
      if (slant % 2 !== 0 && Math.abs(across) < steps && row + back[most + across]! >= rows) {
        return { x: beforeFrom + row, y: afterFrom + column() };
      }
    }
    for (let diagonal = -steps; diagonal <= steps; diagonal += 2) {
      let row = startOn(back, { diagonal, steps, ...size });
      const column = () => row - diagonal;
      while (row >= 0 && row < rows && column() < columns && same(rows - 1 - row, columns - 1 - column())) row++;
      back[most + diagonal] = row;
      const across = slant - diagonal;
      if (slant % 2 === 0 && Math.abs(across) <= steps && row + front[most + across]! >= rows) {
        return { x: beforeFrom + rows - row, y: afterFrom + columns - column() };
      }
    }
  }
  throw new Error('two paths over the same lists always meet');
}

const UNREACHED = -(2 ** 30);

interface Place {
  readonly diagonal: number;
  readonly steps: number;
  readonly rows: number;
  readonly columns: number;
  readonly most: number;
}

/** The furthest row on a diagonal after one more edit: a removal from the diagonal below, an insertion from above. */
function startOn(reached: Int32Array, { diagonal, steps, rows, columns, most }: Place): number {
  if (steps === 0) return 0;
  const removed = diagonal > -steps ? reached[most + diagonal - 1]! + 1 : UNREACHED;
  const inserted = diagonal < steps ? reached[most + diagonal + 1]! : UNREACHED;
  return Math.max(
    removed >= 0 && removed <= rows ? removed : UNREACHED,
    inserted >= 0 && inserted - diagonal <= columns ? inserted : UNREACHED,
  );
}

function runsFrom(keeps: Keeps): EditRun[] {
  const runs: EditRun[] = [];
  let before = 0;
  let after = 0;
  const take = (kind: EditRun['kind'], goesOn: () => boolean, step: () => void) => {
    const [beforeFrom, afterFrom] = [before, after];
    while (goesOn()) step();
    const length = Math.max(before - beforeFrom, after - afterFrom);
    if (length > 0) runs.push({ kind, beforeFrom, afterFrom, length });
  };
  while (before < keeps.before.length || after < keeps.after.length) {
    take(
      'kept',
      () => keeps.before[before] === 1 && keeps.after[after] === 1,
      () => void (before++, after++),
    );
    take(
      'removed',
      () => keeps.before[before] === 0,
      () => void before++,
    );
    take(
      'inserted',
      () => keeps.after[after] === 0,
      () => void after++,
    );
  }
  return runs;
}
