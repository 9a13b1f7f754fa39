import type { Edit } from '../../../demo/book/edits/pages.ts';
import { changeNthLine, changeText, moveLine, rewrite } from '../../../demo/book/edits/type-and-artwork.ts';
import type { TextItem, TextLine } from '../../../demo/book/spec.ts';
import type { ExcerptName } from './excerpts.ts';
import type { PlantedFault } from './planted-fault.ts';

function text(
  excerpt: ExcerptName,
  page: number,
  name: string,
  edit: Edit,
  more: Partial<PlantedFault> = {},
): PlantedFault {
  return {
    name: `page ${page}: ${name}`,
    excerpt,
    edit,
    expected: [{ kind: 'text-changed', dummyPage: page }],
    ...more,
  };
}

/** A change of a whole page's type: told once or line by line. */
function face(excerpt: ExcerptName, page: number, role: TextItem['role'], name: string, to: string): PlantedFault {
  return {
    name: `page ${page}: ${name}`,
    excerpt,
    edit: changeText(page, role, (line) => ({ ...line, face: to })),
    expected: [{ kind: 'text-changed', dummyPage: page, oftenTold: true }],
  };
}

/** Another letter in the middle of the line's longest word. */
function misspell(line: TextLine): TextLine {
  const longest = line.text.split(' ').toSorted((a, b) => b.length - a.length)[0] ?? '';
  const middle = Math.floor(longest.length / 2);
  const wrong = longest[middle] === 'e' ? 'o' : 'e';
  const changed = longest.slice(0, middle) + wrong + longest.slice(middle + 1);
  return { ...line, text: line.text.replace(longest, changed) };
}

function dropSecondWord(line: TextLine): TextLine {
  return { ...line, text: line.text.split(' ').toSpliced(1, 1).join(' ') };
}

const bare = (line: TextLine): TextLine => ({
  ...line,
  text: line.text.normalize('NFD').replace(/\p{M}/u, '').normalize('NFC'),
});
const otherDigit = (line: TextLine): TextLine => ({
  ...line,
  text: line.text.replace(/\d$/, (d) => String((Number(d) + 3) % 10)),
});

/** Letters, accents, figures, words, faces, lines out of place, type outlined. */
export const TEXT_FAULTS: readonly PlantedFault[] = [
  text('winter one', 1, 'a letter', rewrite(1, 'eleven winters', 'eleven wintens')),
  text('winter one', 1, 'an accent lost in a Latin-1 name', rewrite(1, 'Ødsund and', 'Odsund and')),
  text('winter one', 1, 'an accent lost in a Czech name', rewrite(1, 'Čeřín', 'Čerín')),
  text('winter one', 1, 'a word dropped', rewrite(1, 'was given a bed, oil', 'was given a bed oil')),
  text('winter one', 2, 'a letter in the caption', rewrite(2, 'Above Orrel', 'Above Orrol')),
  text('winter one', 3, 'a digit of the folio', changeText(3, 'folio', otherDigit)),
  text('winter one', 4, 'a capital in the running head', rewrite(4, 'The Flats', 'the Flats')),
  text('winter one', 6, 'a label of the map', rewrite(6, 'Málaholt', 'Malaholt')),
  text('winter two', 6, 'a page number in the list', rewrite(6, '15, 16', '15, 18')),
  text('winter two', 4, 'a line 1 mm too low', moveLine(4, 'whitewashed', 0, 1)),
  text('winter two', 4, 'a letter, type outlined', rewrite(4, 'storeys', 'stareys'), { after: 'type outlined' }),
  text('salt one', 1, 'a letter', changeNthLine(1, 'body', 3, misspell)),
  text('salt one', 1, 'a word dropped', changeNthLine(1, 'body', 5, dropSecondWord)),
  text('salt one', 3, 'a digit of the folio', changeText(3, 'folio', otherDigit)),
  text(
    'salt one',
    1,
    'a line 0.5 mm too far right',
    changeNthLine(1, 'body', 4, (line) => ({ ...line, x: line.x + 0.5 })),
  ),
  text('salt one', 1, 'a letter, type outlined', changeNthLine(1, 'body', 6, misspell), { after: 'type outlined' }),
  text(
    'salt two',
    4,
    'a line in capitals',
    changeNthLine(4, 'body', 2, (line) => ({ ...line, text: line.text.toUpperCase() })),
  ),
  text('salt one', 1, 'an accent lost', changeNthLine(1, 'body', 2, bare)),
  text('ledge one', 6, 'a letter', changeNthLine(6, 'body', 2, misspell)),
  text('ledge one', 2, 'a letter in the caption', changeNthLine(2, 'caption', 1, misspell)),
  text('ledge one', 6, 'a digit of the folio', changeText(6, 'folio', otherDigit)),
  text(
    'ledge two',
    6,
    'a line 1 mm too high',
    changeNthLine(6, 'body', 3, (line) => ({ ...line, baseline: line.baseline - 1 })),
  ),
  face('winter one', 1, 'body', 'set in another family', 'sans'),
  face('winter two', 4, 'body', 'set in bold', 'serif-bold'),
  face('ledge one', 6, 'body', 'set in italics', 'serif-italic'),
];
