import type { Matrix, PagePoint } from '../../../model/index.ts';
import type { Outline } from './clip.ts';
import { transformPoint } from './matrix.ts';

/** Straight pieces that stand for one Bézier curve; a quarter circle of 100 mm radius is then true to 0.03 mm. */
const CURVE_PIECES = 32;
const MOVE = 0;
const LINE = 1;
const CURVE = 2;
const CLOSE = 3;

/**
 * A path under construction, in the space of the operands. Only numbers are kept: most paths are painted and forgotten,
 * and an outline is asked for only where one clips or is filled with a pattern.
 *
 * @source ISO 32000-2 8.5.2
 */
export class PathBuilder {
  #steps: number[] = [];
  #x = 0;
  #y = 0;

  get isEmpty(): boolean {
    return this.#steps.length === 0;
  }

  moveTo(x: number, y: number): void {
    this.#add(MOVE, x, y);
  }

  lineTo(x: number, y: number): void {
    this.#add(this.isEmpty ? MOVE : LINE, x, y);
  }

  curveTo(x1: number, y1: number, x2: number, y2: number, x3: number, y3: number): void {
    if (this.isEmpty) this.moveTo(x1, y1);
    this.#steps.push(CURVE, x1, y1, x2, y2, x3, y3);
    this.#x = x3;
    this.#y = y3;
  }

  /** A curve whose first control point is the current point (operator v). */
  curveFromCurrent(x2: number, y2: number, x3: number, y3: number): void {
    this.curveTo(this.#x, this.#y, x2, y2, x3, y3);
  }

  rectangle(x: number, y: number, width: number, height: number): void {
    this.moveTo(x, y);
    this.lineTo(x + width, y);
    this.lineTo(x + width, y + height);
    this.lineTo(x, y + height);
    this.close();
  }

  close(): void {
    this.#steps.push(CLOSE);
  }

  clear(): void {
    if (!this.isEmpty) this.#steps = [];
  }

  /** The path as polygons where `matrix` places it, its curves flattened. */
  outline(matrix: Matrix): Outline {
    const steps = this.#steps;
    const parts: PagePoint[][] = [];
    let open: PagePoint[] = [];
    let x = 0;
    let y = 0;
    let startX = 0;
    let startY = 0;
    const begin = (): void => {
      open = [transformPoint(matrix, startX, startY)];
      parts.push(open);
    };
    let isClosed = false;
    for (let at = 0; at < steps.length;) {
      const kind = steps[at]!;
      if (kind !== MOVE && kind !== CLOSE && isClosed) begin();
      isClosed = kind === CLOSE;
      if (kind === CLOSE) {
        x = startX;
        y = startY;
        at += 1;
      } else if (kind === CURVE) {
        flatten(open, matrix, x, y, steps, at + 1);
        x = steps[at + 5]!;
        y = steps[at + 6]!;
        at += 7;
      } else {
        x = steps[at + 1]!;
        y = steps[at + 2]!;
        if (kind === MOVE) {
          startX = x;
          startY = y;
          begin();
        } else {
          open.push(transformPoint(matrix, x, y));
        }
        at += 3;
      }
    }
    return parts;
  }

  #add(kind: number, x: number, y: number): void {
    this.#steps.push(kind, x, y);
    this.#x = x;
    this.#y = y;
  }
}

function flatten(
  part: PagePoint[],
  matrix: Matrix,
  x0: number,
  y0: number,
  steps: readonly number[],
  at: number,
): void {
  const [x1, y1, x2, y2, x3, y3] = steps.slice(at, at + 6) as [number, number, number, number, number, number];
  for (let piece = 1; piece <= CURVE_PIECES; piece += 1) {
    const t = piece / CURVE_PIECES;
    const u = 1 - t;
    const b0 = u * u * u;
    const b1 = 3 * u * u * t;
    const b2 = 3 * u * t * t;
    const b3 = t * t * t;
    part.push(transformPoint(matrix, b0 * x0 + b1 * x1 + b2 * x2 + b3 * x3, b0 * y0 + b1 * y1 + b2 * y2 + b3 * y3));
  }
}
