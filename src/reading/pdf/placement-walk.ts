import { PDFDict, PDFRawStream, PDFRef } from '@cantoo/pdf-lib';
import { Refusal } from '../../model/index.ts';
import type { Limits, Matrix } from '../../model/index.ts';
import type { Book } from './book.ts';
import { inlineDict } from './content/inline-dict.ts';
import { isDict, isName, numberOf } from './content/operand.ts';
import type { InlineImage, Operand, Operation } from './content/operand.ts';
import { Operations } from './content/operations.ts';
import { decodeContent } from './content/page-content.ts';
import { narrowClip, visibleBox } from './geometry/clip.ts';
import type { Clip, Outline } from './geometry/clip.ts';
import { concatenate } from './geometry/matrix.ts';
import { PathBuilder } from './geometry/path.ts';
import { boundingBox, placedRectangle } from './geometry/polygon.ts';
import type { Polygon } from './geometry/polygon.ts';
import { chosenPattern, namedResource } from './graphics-state.ts';
import type { GraphicsState, Surroundings } from './graphics-state.ts';
import { dictEntry, entryOf, isTrueEntry, matrixEntry, nameEntry, numberEntry, numbersOf, resolve } from './objects.ts';
import { isShown } from './optional-content.ts';
import type { LayerStates } from './optional-content.ts';
import { cellUnder } from './pattern-cell.ts';
import type { Placement } from './placement.ts';

const OPERATORS_A_TIME_CHECK = 4096;
/** An image's square has y up in PDF; pictures are told with y down. */
const Y_DOWN: Matrix = [1, 0, 0, -1, 0, 1];

/** What the walk keeps while it runs through one content stream. */
interface Run {
  state: GraphicsState;
  readonly saved: GraphicsState[];
  readonly path: PathBuilder;
  clipsNext: boolean;
  /** For each open marked-content sequence, whether its layer is hidden. */
  readonly marked: boolean[];
  hidden: number;
  readonly around: Surroundings;
}

/** Asked of each form: where its box lies, what clips it, and what takes its own space to the page's mm. */
export type EntersForm = (outline: Polygon, clip: Clip, ctm: Matrix) => boolean;

/** Runs through content as a renderer would, and notes every image instead of drawing it. */
export class PlacementWalk {
  readonly placements: Placement[] = [];
  readonly #book: Book;
  readonly #limits: Limits;
  readonly #layers: LayerStates;
  readonly #open = new Set<PDFRawStream>();
  /** Each soft mask's group, and the matrices it was already drawn under. */
  readonly #masksSeen = new Map<PDFRawStream, Set<string>>();
  readonly #deadline: number;
  #operators = 0;
  #painted = 0;
  #page: Polygon = [];
  readonly #entersForm: EntersForm;

  /** @param entersForm  whether a form that is drawn is run through */
  constructor(book: Book, layers: LayerStates, entersForm: EntersForm = () => true) {
    this.#book = book;
    this.#entersForm = entersForm;
    this.#limits = book.limits;
    this.#layers = layers;
    this.#deadline = performance.now() + book.limits.pageMs;
  }

  /** A page's resources, its own or inherited. */
  resourcesOfPage(pageNumber: number): PDFDict | undefined {
    const { Resources } = this.#book.page(pageNumber).inherited;
    return Resources instanceof PDFDict ? Resources : undefined;
  }

  /** @throws {Refusal} too-large: operators, nesting, time or a stream's bytes over their limit */
  run(content: Uint8Array, state: GraphicsState, around: Surroundings): void {
    if (this.#page.length === 0) this.#page = state.clip.convex;
    const run: Run = {
      state,
      saved: [],
      path: new PathBuilder(),
      clipsNext: false,
      marked: [],
      hidden: 0,
      around,
    };
    const operations = new Operations(content);
    for (let operation = operations.next(); operation !== null; operation = operations.next()) {
      this.#count();
      this.#step(run, operation);
    }
  }

  /** Draws a form with its own matrix, clip and resources; a form that is being drawn already draws nothing. */
  drawForm(form: PDFRawStream, state: GraphicsState, from: Partial<Surroundings> = {}): void {
    if (this.#open.has(form)) return;
    const depth = this.#deeper(from.depth ?? 0);
    const ctm = concatenate(matrixEntry(form.dict), state.ctm);
    const box = numbersOf(form.dict.context, entryOf(form.dict, 'BBox'), 4) as
      [number, number, number, number] | undefined;
    const outline = box === undefined ? null : placedRectangle(ctm, ...box);
    const clip = outline === null ? state.clip : narrowClip(state.clip, [outline]);
    if (outline !== null && from.isInPatternOrMask !== true && !this.#entersForm(outline, state.clip, ctm)) return;
    this.#runStream(
      form,
      { ...state, ctm, clip },
      {
        resources: dictEntry(form.dict, 'Resources') ?? from.resources,
        base: ctm,
        depth,
        isInPatternOrMask: from.isInPatternOrMask ?? false,
        repeatsOver: from.repeatsOver ?? null,
      },
    );
  }

  #runStream(stream: PDFRawStream, state: GraphicsState, around: Surroundings): void {
    this.#open.add(stream);
    this.run(decodeContent(this.#book, stream, this.#limits.streamBytes), state, around);
    this.#open.delete(stream);
  }

  #deeper(depth: number): number {
    const { nesting } = this.#limits;
    if (depth >= nesting) {
      throw new Refusal('too-large', { what: 'forms inside forms', limit: nesting, found: depth + 1, unit: 'levels' });
    }
    return depth + 1;
  }

  #count(): void {
    this.#operators += 1;
    const { operators, pageMs } = this.#limits;
    if (this.#operators > operators) {
      throw new Refusal('too-large', {
        what: 'the content',
        limit: operators,
        found: this.#operators,
        unit: 'operators',
      });
    }
    if (this.#operators % OPERATORS_A_TIME_CHECK === 0 && performance.now() > this.#deadline) {
      const found = Math.ceil(performance.now() - this.#deadline + pageMs);
      throw new Refusal('too-large', { what: 'the time to read the page', limit: pageMs, found, unit: 'ms' });
    }
  }

  #step(run: Run, { operator, operands, inline }: Operation): void {
    const { path, around } = run;
    switch (operator) {
      case 'q':
        run.saved.push(run.state);
        break;
      case 'Q':
        run.state = run.saved.pop() ?? run.state;
        break;
      case 'cm': {
        const matrix = numbers(operands, 6);
        if (matrix !== null) run.state = { ...run.state, ctm: concatenate(matrix as unknown as Matrix, run.state.ctm) };
        break;
      }
      case 'gs':
        this.#setGraphicsState(run, operands[0]);
        break;
      case 'm':
      case 'l': {
        const point = numbers(operands, 2);
        if (point !== null) path[operator === 'm' ? 'moveTo' : 'lineTo'](point[0]!, point[1]!);
        break;
      }
      case 'c': {
        const p = numbers(operands, 6);
        if (p !== null) path.curveTo(p[0]!, p[1]!, p[2]!, p[3]!, p[4]!, p[5]!);
        break;
      }
      case 'v': {
        const p = numbers(operands, 4);
        if (p !== null) path.curveFromCurrent(p[0]!, p[1]!, p[2]!, p[3]!);
        break;
      }
      case 'y': {
        const p = numbers(operands, 4);
        if (p !== null) path.curveTo(p[0]!, p[1]!, p[2]!, p[3]!, p[2]!, p[3]!);
        break;
      }
      case 're': {
        const p = numbers(operands, 4);
        if (p !== null) path.rectangle(p[0]!, p[1]!, p[2]!, p[3]!);
        break;
      }
      case 'h':
        path.close();
        break;
      case 'W':
      case 'W*':
        run.clipsNext = true;
        break;
      case 'f':
      case 'F':
      case 'f*':
      case 'B':
      case 'B*':
      case 'b':
      case 'b*':
        if (run.state.fillPattern !== null) this.#fillWithPattern(run, path.outline(run.state.ctm));
        this.#endPath(run, true);
        break;
      case 'S':
      case 's':
        this.#endPath(run, true);
        break;
      case 'n':
        this.#endPath(run, false);
        break;
      case 'scn':
        run.state = { ...run.state, fillPattern: chosenPattern(around.resources, operands) };
        break;
      case 'cs':
      case 'sc':
      case 'g':
      case 'rg':
      case 'k':
        if (run.state.fillPattern !== null) run.state = { ...run.state, fillPattern: null };
        break;
      case 'sh':
      case 'Tj':
      case 'TJ':
      case "'":
      case '"':
        this.#painted += 1;
        break;
      case 'BMC':
        run.marked.push(false);
        break;
      case 'BDC': {
        const isHidden = this.#isHiddenLayer(run, operands);
        run.marked.push(isHidden);
        if (isHidden) run.hidden += 1;
        break;
      }
      case 'EMC':
        if (run.marked.pop() === true) run.hidden -= 1;
        break;
      case 'Do':
        if (run.hidden === 0) this.#drawObject(run, operands[0]);
        break;
      case 'BI':
        if (run.hidden === 0 && inline !== undefined) this.#placeInline(run, inline);
        break;
      default:
    }
  }

  #endPath(run: Run, isPainted: boolean): void {
    if (isPainted && run.hidden === 0) this.#painted += 1;
    // A clip without a path is an error that most programs pass over.
    if (run.clipsNext && !run.path.isEmpty) {
      const clip = narrowClip(run.state.clip, run.path.outline(run.state.ctm));
      run.state = { ...run.state, clip };
    }
    run.clipsNext = false;
    run.path.clear();
  }

  #isHiddenLayer(run: Run, [tag, properties]: readonly Operand[]): boolean {
    if (!isName(tag) || tag.name !== 'OC' || isDict(properties)) return false;
    const layer = namedResource(run.around.resources, 'Properties', properties);
    return !this.#layers.isVisible(resolve(this.#book.context, layer));
  }

  #setGraphicsState(run: Run, name: Operand | undefined): void {
    const settings = resolve(this.#book.context, namedResource(run.around.resources, 'ExtGState', name));
    if (!(settings instanceof PDFDict)) return;
    const mask = entryOf(settings, 'SMask');
    if (mask === undefined) return;
    run.state = { ...run.state, isSoftMasked: mask instanceof PDFDict };
    const group = mask instanceof PDFDict ? entryOf(mask, 'G') : undefined;
    if (!(group instanceof PDFRawStream) || run.hidden > 0) return;
    const places = this.#masksSeen.get(group) ?? new Set();
    this.#masksSeen.set(group, places);
    const place = run.state.ctm.join(' ');
    if (places.has(place)) return;
    places.add(place);
    this.drawForm(group, { ...run.state, isSoftMasked: false }, { ...run.around, isInPatternOrMask: true });
  }

  #drawObject(run: Run, name: Operand | undefined): void {
    const given = namedResource(run.around.resources, 'XObject', name);
    const object = resolve(this.#book.context, given);
    if (!(object instanceof PDFRawStream) || !isShown(this.#layers, object.dict)) return;
    const subtype = nameEntry(object.dict, 'Subtype');
    if (subtype === 'Form') {
      this.drawForm(object, run.state, run.around);
    } else if (subtype === 'Image') {
      const ref = given instanceof PDFRef ? given : null;
      this.#place(run, { ref, stream: object, dict: object.dict, coded: () => object.contents }, 'image');
    }
  }

  #placeInline(run: Run, inline: InlineImage): void {
    const dict = inlineDict(this.#book.context, inline, run.around.resources);
    this.#place(run, { ref: null, stream: null, dict, coded: () => inline.data }, 'inline-image');
  }

  #place(run: Run, image: Pick<Placement, 'ref' | 'stream' | 'dict' | 'coded'>, origin: Placement['origin']): void {
    const { state, around } = run;
    const isStencil = isTrueEntry(image.dict, 'ImageMask');
    const matrix = concatenate(Y_DOWN, state.ctm);
    const outline = placedRectangle(matrix, 0, 0, 1, 1);
    const { repeatsOver } = around;
    if (isStencil && state.fillPattern !== null) this.#fillWithPattern(run, [outline]);
    this.#painted += 1;
    this.placements.push({
      ...image,
      matrix,
      outline,
      window: repeatsOver === null ? visibleBox(state.clip, outline) : visibleBox(repeatsOver, this.#page),
      origin: isStencil ? 'stencil-mask' : origin,
      softMasked: state.isSoftMasked || hasSoftMask(image.dict),
      inPatternOrMask: around.isInPatternOrMask,
      clip: state.clip,
      sequence: this.#painted,
    });
  }

  #fillWithPattern(run: Run, outline: Outline): void {
    const { state, around } = run;
    const pattern = state.fillPattern;
    if (pattern === null || run.hidden > 0 || this.#open.has(pattern)) return;
    const area = narrowClip(state.clip, outline);
    const box = visibleBox(area, this.#page);
    const cell = box === null ? null : cellUnder(pattern.dict, around.base, box);
    if (cell === null || boundingBox(cell.outline) === null) return;
    const inside = { ...state, ctm: cell.matrix, clip: narrowClip(area, [cell.outline]), fillPattern: null };
    const depth = this.#deeper(around.depth);
    this.#runStream(pattern, inside, {
      resources: dictEntry(pattern.dict, 'Resources') ?? around.resources,
      base: cell.matrix,
      depth,
      isInPatternOrMask: true,
      repeatsOver: cell.repeats ? area : around.repeatsOver,
    });
  }
}

function hasSoftMask(dict: PDFDict): boolean {
  return entryOf(dict, 'SMask') instanceof PDFRawStream || (numberEntry(dict, 'SMaskInData') ?? 0) > 0;
}

/** The last `count` operands as numbers, or null where they are not: the operator is then passed over. */
function numbers(operands: readonly Operand[], count: number): readonly number[] | null {
  if (operands.length < count) return null;
  const values: number[] = [];
  for (let index = operands.length - count; index < operands.length; index += 1) {
    const value = numberOf(operands[index]);
    if (value === undefined) return null;
    values.push(value);
  }
  return values;
}
