import { isName } from './content/operand.ts';
import type { Operand, Operation } from './content/operand.ts';
import { Operations } from './content/operations.ts';
import type { HashWriter } from './hash-writer.ts';

/** Writes what a content stream's names stand for. */
export interface Denoting {
  /** Writes what `name` denotes among the resources of a category; false, and nothing written, where it denotes nothing. */
  resource(category: string, name: string): boolean;
  /** Whether the marks of a layer, named among the Properties, are drawn. */
  isVisible(name: string): boolean;
  inlineImage(operation: Operation): void;
  /** Called for each operator, to stop what grows without end. */
  count(): void;
}

/** Operators whose last operand names a resource. @source ISO 32000-2 annex A */
const CATEGORIES: Readonly<Record<string, string>> = {
  Do: 'XObject',
  gs: 'ExtGState',
  sh: 'Shading',
  cs: 'ColorSpace',
  CS: 'ColorSpace',
  scn: 'Pattern',
  SCN: 'Pattern',
};
/** Names that `cs` takes for themselves. @source ISO 32000-2 table 73 */
const OWN_SPACES = new Set(['DeviceGray', 'DeviceRGB', 'DeviceCMYK', 'Pattern']);

/**
 * Writes the tokens of a content stream: operands, then the operator, names of resources replaced by what they denote.
 * Marked content leaves no trace but for layers.
 *
 * @source src/reading/pdf/page-hash.md, "Content"; tokens by ISO 32000-2 7.8.2
 */
export function writeContent(writer: HashWriter, content: Uint8Array, denoting: Denoting): void {
  const operations = new Operations(content);
  const layers: boolean[] = [];
  for (let operation = operations.next(); operation !== null; operation = operations.next()) {
    denoting.count();
    const { operator, operands } = operation;
    switch (operator) {
      case 'MP':
      case 'DP':
        break;
      case 'BMC':
        layers.push(false);
        break;
      case 'BDC': {
        const [tag, properties] = operands;
        const isLayer = isName(tag) && tag.name === 'OC' && isName(properties);
        layers.push(isLayer);
        if (isLayer) {
          writer.boolean(denoting.isVisible(properties.name));
          writer.keyword(operator);
        }
        break;
      }
      case 'EMC':
        if (layers.pop() === true) writer.keyword(operator);
        break;
      case 'BI':
        denoting.inlineImage(operation);
        writer.keyword('EI');
        break;
      case 'Tf':
        writeNamed(writer, denoting, 'Font', operands[0]);
        writeOperands(writer, operands.slice(1));
        writer.keyword(operator);
        break;
      default:
        writeDefault(writer, denoting, operation);
    }
  }
}

function writeDefault(writer: HashWriter, denoting: Denoting, { operator, operands }: Operation): void {
  const category = Object.hasOwn(CATEGORIES, operator) ? CATEGORIES[operator] : undefined;
  if (category === undefined) {
    writeOperands(writer, operands);
  } else {
    writeOperands(writer, operands.slice(0, -1));
    writeNamed(writer, denoting, category, operands.at(-1));
  }
  writer.keyword(operator);
}

function writeNamed(writer: HashWriter, denoting: Denoting, category: string, operand: Operand | undefined): void {
  if (operand === undefined) return;
  const isOwn = isName(operand) && category === 'ColorSpace' && OWN_SPACES.has(operand.name);
  if (isName(operand) && !isOwn && denoting.resource(category, operand.name)) return;
  writeOperand(writer, operand);
}

function writeOperands(writer: HashWriter, operands: readonly Operand[]): void {
  for (const operand of operands) writeOperand(writer, operand);
}

/** Writes an operand as a value; names stand for themselves. */
function writeOperand(writer: HashWriter, operand: Operand): void {
  if (typeof operand === 'number') {
    writer.number(operand);
  } else if (typeof operand === 'boolean') {
    writer.boolean(operand);
  } else if (operand === null) {
    writer.mark('n');
  } else if (!('kind' in operand)) {
    writer.mark('[');
    writeOperands(writer, operand);
    writer.mark(']');
  } else if (operand.kind === 'name') {
    writer.name(operand.name);
  } else if (operand.kind === 'string') {
    writer.string(operand.bytes);
  } else if (operand.kind === 'word') {
    writer.keyword(operand.text);
  } else {
    writer.mark('<');
    for (const key of [...operand.entries.keys()].sort(byBytes)) {
      writer.name(key);
      writeOperand(writer, operand.entries.get(key) ?? null);
    }
    writer.mark('>');
  }
}

/** Order of names of one character a byte: by their bytes. */
export function byBytes(one: string, other: string): number {
  return one < other ? -1 : one > other ? 1 : 0;
}
