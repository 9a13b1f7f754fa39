import { printable } from '../../words/printable.ts';
import type { Account, Block } from './section.ts';

const WIDTH = 96;

/** An account as plain text, in lines of at most 96 characters where words allow it. */
export function accountText({ title, subtitle, sections }: Account): string {
  const lines = [...folded(`Witness Leaf: account of “${title}”`), ...folded(subtitle)];
  for (const { heading, blocks } of sections) {
    lines.push('', '', heading, '-'.repeat(heading.length));
    for (const block of blocks) lines.push('', ...blockLines(block));
  }
  return `${lines.join('\n')}\n`;
}

function blockLines(block: Block): readonly string[] {
  switch (block.kind) {
    case 'text':
      return folded(block.text);
    case 'list':
      return block.items.flatMap((item) =>
        folded(item, '  ').map((line, index) => (index === 0 ? `- ${line.slice(2)}` : line)),
      );
    case 'terms':
      return block.rows.flatMap(([term, says], index) => [
        ...(index === 0 ? [] : ['']),
        ...folded(term),
        ...folded(says, '    '),
      ]);
    case 'events':
      return block.events.flatMap(({ at, says, entry }, index) => [
        ...(index === 0 ? [] : ['']),
        `${at}${entry === null ? '' : `  [${entry}]`}`,
        ...folded(says, '    '),
      ]);
    case 'pictures':
      return block.pictures.flatMap(({ member, caption }) => folded(`Picture: ${caption}: ${member}`));
    case 'table':
      return block.rows.flatMap((row, index) => [
        ...(index === 0 ? [] : ['']),
        ...row.flatMap((cell, column) =>
          folded(`${block.columns[column]?.title ?? ''}: ${cell}`, column === 0 ? '' : '    '),
        ),
      ]);
  }
}

/** Words in lines; what comes from a person cannot break a line or steer a terminal. */
function folded(text: string, indent = ''): readonly string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of printable(text).split(/ +/)) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && indent.length + longer.length > WIDTH) {
      lines.push(`${indent}${line}`);
      line = word;
    } else line = longer;
  }
  return [...lines, `${indent}${line}`];
}
