import type { PDFPageProxy } from 'pdfjs-dist';
import type { Matrix } from '../../model/index.ts';
import { concatenate, IDENTITY } from '../pdf/geometry/matrix.ts';
import { fontFacts, type FontFacts } from './font-facts.ts';
import type { Glyph } from './glyph.ts';
import type { LayerVisibility } from './layer-visibility.ts';
import type { OperatorList } from './operator-list.ts';
import { showGlyphs } from './show-glyphs.ts';
import { initialTextState, moveText, type TextState } from './text-state.ts';

type Operands = readonly unknown[];

/** Operators by their name in the renderer's table. */
type Handlers = Readonly<Record<string, (operands: Operands) => void>>;

/**
 * Every visible glyph of a page in drawing order, those of forms included. Left out: invisible text (rendering mode 3),
 * text in layers that are off, in soft masks and in patterns.
 *
 * @param toPage  from the page's own space to page mm
 */
export function pageGlyphs(
  page: PDFPageProxy,
  operators: OperatorList,
  names: Readonly<Record<number, string>>,
  layers: LayerVisibility,
  toPage: Matrix,
): readonly Glyph[] {
  const glyphs: Glyph[] = [];
  const fonts = new Map<string, FontFacts>();
  const saved: TextState[] = [];
  let state = initialTextState();
  const groups: boolean[] = [];
  let softMasks = 0;

  const save = (): void => {
    saved.push({ ...state });
  };
  const restore = (): void => {
    state = saved.pop() ?? state;
  };
  const transform = (matrix: Matrix): void => {
    state.ctm = concatenate(matrix, state.ctm);
  };
  const setFont = (loadedName: string, size: number): void => {
    state.font = fonts.get(loadedName) ?? fontFacts(page, loadedName);
    fonts.set(loadedName, state.font);
    state.fontSize = size;
  };
  const setText = (key: 'charSpacing' | 'wordSpacing' | 'rise' | 'renderingMode') => (operands: Operands) => {
    state[key] = numberOf(operands[0]);
  };

  const handlers: Handlers = {
    save,
    restore,
    transform: (operands) => transform(matrixOf(operands)),
    paintFormXObjectBegin: ([matrix]) => {
      save();
      if (isList(matrix)) transform(matrixOf(matrix));
    },
    paintFormXObjectEnd: restore,
    beginGroup: ([options]) => {
      save();
      const isSoftMask = fieldOf(options, 'smask') !== null && fieldOf(options, 'smask') !== undefined;
      groups.push(isSoftMask);
      softMasks += isSoftMask ? 1 : 0;
    },
    endGroup: () => {
      restore();
      softMasks -= groups.pop() === true ? 1 : 0;
    },
    beginText: () => {
      Object.assign(state, { textMatrix: IDENTITY, x: 0, y: 0, lineX: 0, lineY: 0 });
    },
    setTextMatrix: (operands) => {
      const [first] = operands;
      const matrix = matrixOf(isList(first) ? first : operands);
      Object.assign(state, { textMatrix: matrix, x: 0, y: 0, lineX: 0, lineY: 0 });
    },
    moveText: ([x, y]) => moveText(state, numberOf(x), numberOf(y)),
    setLeadingMoveText: ([x, y]) => {
      state.leading = numberOf(y);
      moveText(state, numberOf(x), numberOf(y));
    },
    nextLine: () => moveText(state, 0, state.leading),
    setLeading: ([leading]) => {
      state.leading = -numberOf(leading);
    },
    setFont: ([name, size]) => setFont(String(name), numberOf(size)),
    setGState: ([entries]) => {
      for (const entry of isList(entries) ? entries : []) {
        const [key, value] = isList(entry) ? entry : [];
        if (key === 'Font' && isList(value)) setFont(String(value[0]), numberOf(value[1]));
      }
    },
    setCharSpacing: setText('charSpacing'),
    setWordSpacing: setText('wordSpacing'),
    setTextRise: setText('rise'),
    setTextRenderingMode: setText('renderingMode'),
    setHScale: ([percent]) => {
      state.horizontalScale = numberOf(percent) / 100;
    },
    beginMarkedContent: () => layers.begin(null),
    beginMarkedContentProps: ([tag, group]) => layers.begin(tag === 'OC' ? group : null),
    endMarkedContent: () => layers.end(),
    showText: ([shown]) => {
      const visible = layers.visible && softMasks === 0 && state.renderingMode !== INVISIBLE;
      showGlyphs(isList(shown) ? shown : [], state, toPage, visible ? glyphs : null);
    },
  };

  operators.fnArray.forEach((operator, at) => {
    handlers[names[operator] ?? '']?.(operators.argsArray[at] ?? []);
  });
  return glyphs;
}

const INVISIBLE = 3;

function isList(value: unknown): value is readonly unknown[] {
  return Array.isArray(value) || ArrayBuffer.isView(value);
}

function numberOf(value: unknown): number {
  return typeof value === 'number' && Number.isFinite(value) ? value : 0;
}

function fieldOf(value: unknown, key: string): unknown {
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>)[key] : undefined;
}

function matrixOf(values: readonly unknown[]): Matrix {
  const [a, b, c, d, e, f] = Array.from(values);
  return [numberOf(a), numberOf(b), numberOf(c), numberOf(d), numberOf(e), numberOf(f)];
}
