import { describe, expect, it } from 'vitest';
import { preparePage } from '../../../src/comparing/page-sides.ts';
import type { TextComparison } from '../../../src/comparing/text/compare-text.ts';
import { compareText } from '../../../src/comparing/text/compare-text.ts';
import { boxAround } from '../../../src/comparing/text/word-clusters.ts';
import type { Box } from '../../../src/model/index.ts';
import { DEFAULT_TOLERANCES } from '../../../src/model/index.ts';
import { even, photograph } from '../made-up-scenes.ts';
import type { TypeLine } from '../set-type.ts';
import { setLine } from '../set-type.ts';
import type { PageSketch } from '../sketched-page.ts';
import { drawFine, drawPage } from '../sketched-page.ts';

const SIZE = { width: 60, height: 34 };
const TEXT = ['der alte hafen von riva', 'am abend im september', 'foto von der mole aus'];

/** Lines of 10 pt under each other from 5 mm on. */
const paragraph = (texts: readonly string[], given: Partial<TypeLine> = {}): TypeLine[] =>
  texts.map((text, at) => ({ text, x: 5, baseline: 8 + 5 * at, ...given }));

function compare(
  dummy: PageSketch,
  revision: PageSketch,
  { fine = false, pictures = [] as readonly Box[] } = {},
): TextComparison {
  const [one, other] = [
    { size: SIZE, ...dummy, pageNumber: 7 },
    { size: SIZE, ...revision, pageNumber: 8 },
  ];
  const sides = { dummy: preparePage(drawPage(one)), revision: preparePage(drawPage(other)) };
  return compareText(sides, fine ? drawFine(one, other) : null, pictures, DEFAULT_TOLERANCES);
}

const sentences = ({ findings }: TextComparison) => findings.map(({ says }) => says);
const compareLines = (before: readonly TypeLine[], after: readonly TypeLine[]) =>
  compare({ lines: before }, { lines: after });
const reworded = (before: readonly string[], after: readonly string[]) =>
  sentences(compareLines(paragraph(before), paragraph(after)));

describe('a change of wording', () => {
  it('is a finding with both wordings, on both pages, in its place', () => {
    const { findings, wantsFine } = compareLines(
      paragraph(TEXT),
      paragraph([TEXT[0]!, 'am abend im setpember', TEXT[2]!]),
    );
    const september = setLine(paragraph(TEXT)[1]!).words[3]!;
    expect(findings).toEqual([
      {
        kind: 'text-changed',
        weight: 'stop',
        dummyPage: 7,
        revisionPage: 8,
        box: september.box,
        revisionBox: september.box,
        measured: { before: 'september', after: 'setpember' },
        says: '“september” now reads “setpember”.',
      },
    ]);
    // whether it only is another spelling of the same shapes is looked at closely
    expect(wantsFine).toBe(true);
  });

  it.each<[string, readonly string[], readonly string[], readonly string[]]>([
    ['a lost accent', ['café am see'], ['cafe am see'], ['“café” now reads “cafe”.']],
    ['a digit of a folio', ['seite 147'], ['seite 148'], ['“147” now reads “148”.']],
    ['a lost full stop', ['am ende.'], ['am ende'], ['“ende.” now reads “ende”.']],
    ['a capital', ['am hafen'], ['am Hafen'], ['“hafen” now reads “Hafen”.']],
    [
      'words in two lines, far from each other',
      TEXT,
      ['der neue hafen von riva', TEXT[1]!, 'foto von der mole an'],
      ['“alte” now reads “neue”.', '“aus” now reads “an”.'],
    ],
    ['a word that is gone from the end', TEXT, [TEXT[0]!, 'am abend im', TEXT[2]!], ['Words are gone: “september”.']],
    ['a line that is gone', TEXT, [TEXT[0]!, TEXT[1]!], ['Words are gone: “foto von der mole aus”.']],
    ['a line more', TEXT.slice(0, 2), TEXT, ['New words: “foto von der mole aus”.']],
  ])('%s', (_, before, after, expected) => {
    expect(reworded(before, after)).toEqual(expected);
  });

  it('that makes a paragraph flow on is one finding: the words after it only moved on', () => {
    const before = ['der alte hafen von riva am', 'abend im september wie er', 'einmal war und nie mehr'];
    const after = ['der alte hafen von am abend', 'im september wie er einmal', 'war und nie mehr'];
    expect(reworded(before, after)).toEqual(['Words are gone: “riva”.']);
  });
});

describe('type that moved', () => {
  it('as a line, by more than the tolerance, is one finding with its way', () => {
    const moved = paragraph(TEXT).map((line, at) => (at === 1 ? { ...line, x: 6.2 } : line));
    expect(sentences(compareLines(paragraph(TEXT), moved))).toEqual([
      'Type moved 1.2 mm to the right: “am abend im september”.',
    ]);
  });

  it('as a line carried far away is one finding, not one gone and one new', () => {
    const carried = paragraph(TEXT).map((line, at) => (at === 1 ? { ...line, baseline: 30 } : line));
    const { findings } = compareLines(paragraph(TEXT), carried);
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({
      box: boxAround(setLine(paragraph(TEXT)[1]!).words),
      revisionBox: boxAround(setLine(carried[1]!).words),
      says: 'Type moved 17.0 mm down: “am abend im september”.',
    });
  });

  it('as a whole paragraph by 2 mm is one finding', () => {
    const down = paragraph(TEXT).map((line) => ({ ...line, baseline: line.baseline + 2 }));
    expect(sentences(compareLines(paragraph(TEXT), down))).toEqual([
      'Type moved 2.0 mm down: “der alte hafen von riva am abend im september foto von der mole aus”.',
    ]);
  });

  it('by less than the tolerance stays silent', () => {
    const hardly = paragraph(TEXT).map((line) => ({ ...line, x: 5.2, baseline: line.baseline - 0.1 }));
    expect(compareLines(paragraph(TEXT), hardly).findings).toEqual([]);
  });
});

describe('how type looks', () => {
  it('is the same under another name of its font', () => {
    expect(compareLines(paragraph(TEXT), paragraph(TEXT, { font: 'Serif-Roman' })).findings).toEqual([]);
  });

  it('is another in another font, told once for the whole place', () => {
    const other = paragraph(TEXT, { font: 'Sans', shapes: 'sans' });
    expect(sentences(compareLines(paragraph(TEXT), other))).toEqual([
      'The type looks different (Serif became Sans): “der alte hafen von riva am abend im september foto von der mole aus”.',
    ]);
  });

  it('is another where a font of the same name draws other letters: a missing font, replaced in silence', () => {
    expect(sentences(compareLines(paragraph(TEXT), paragraph(TEXT, { shapes: 'sans' })))).toEqual([
      'The type looks different (its shapes): “der alte hafen von riva am abend im september foto von der mole aus”.',
    ]);
  });

  it('is another in another size, on a word alone', () => {
    expect(sentences(compareLines(paragraph(['riva']), paragraph(['riva'], { sizePt: 9 })))).toEqual([
      'The type looks different (10.0 pt became 9.0 pt): “riva”.',
    ]);
  });

  it.each([9.5, 10.5, 9, 8])(
    'is another in %d pt, told once for the place, though the words moved with it',
    (sizePt) => {
      expect(sentences(compareLines(paragraph(TEXT), paragraph(TEXT, { sizePt })))).toEqual([
        `The type looks different (10.0 pt became ${sizePt.toFixed(1)} pt): “der alte hafen von riva am abend im september foto von der mole aus”.`,
      ]);
    },
  );

  it('is the same where a line under another name of its font moved: that is told as a move', () => {
    const moved = paragraph(TEXT, { font: 'Serif-Roman', x: 6.2 });
    expect(sentences(compareLines(paragraph(TEXT), moved))).toEqual([
      'Type moved 1.2 mm to the right: “der alte hafen von riva am abend im september foto von der mole aus”.',
    ]);
  });

  it('is not judged on a picture, where the picture shows through', () => {
    const over = { x: 2, y: 2, width: 56, height: 30 };
    const [dummy, revision] = [paragraph(TEXT), paragraph(TEXT, { shapes: 'sans' })];
    const found = compare({ lines: dummy }, { lines: revision }, { pictures: [over] });
    expect(found.findings).toEqual([]);
  });
});

describe('type that one file has as outlines', () => {
  const lines = paragraph(TEXT);
  const changed = paragraph([TEXT[0]!, 'am abend im setpember', TEXT[2]!]);

  it('asks for fine drawings of the pages', () => {
    expect(compare({ lines }, { outlined: lines })).toMatchObject({ findings: [], wantsFine: true });
    expect(compare({ outlined: lines }, { lines })).toMatchObject({ findings: [], wantsFine: true });
  });

  it('stays silent where the fine drawings show the same letters', () => {
    expect(compare({ lines }, { outlined: lines }, { fine: true })).toMatchObject({ findings: [], wantsFine: false });
    expect(compare({ outlined: lines }, { lines }, { fine: true })).toMatchObject({ findings: [], wantsFine: false });
  });

  it('is told where its shapes changed, by the word that is known', () => {
    expect(sentences(compare({ lines }, { outlined: changed }, { fine: true }))).toEqual([
      'The type looks different (its shapes): “september”.',
    ]);
    expect(sentences(compare({ outlined: lines }, { lines: changed }, { fine: true }))).toEqual([
      'The type looks different (its shapes): “setpember”.',
    ]);
  });

  it('is told where an accent is lost', () => {
    const [before, after] = [paragraph(['café am see']), paragraph(['cafe am see'])];
    expect(sentences(compare({ lines: before }, { outlined: after }, { fine: true }))).toEqual([
      'The type looks different (its shapes): “café”.',
    ]);
  });

  it('is gone where nothing is drawn in its place, and no fine drawing is asked for', () => {
    const found = compare({ lines }, {});
    expect(sentences(found)).toEqual([
      'Words are gone: “der alte hafen von riva am abend im september foto von der mole aus”.',
    ]);
    expect(found.wantsFine).toBe(false);
  });
});

describe('words that nobody sees', () => {
  it('in paper colour on paper say nothing, whichever file has them', () => {
    const hidden = { text: 'nur für den drucker', x: 5, baseline: 30, ink: even(255, 255, 255) };
    const [plain, more] = [paragraph(TEXT), [...paragraph(TEXT), hidden]];
    expect(compareLines(plain, more).findings).toEqual([]);
    expect(compareLines(more, plain).findings).toEqual([]);
  });

  it('and words cut otherwise by their kerning are the words they were', () => {
    const whole = setLine({ text: 'buchdruck', x: 5, baseline: 10 });
    const sketch: PageSketch = { lines: [{ text: 'buchdruck', x: 5, baseline: 10 }], size: SIZE };
    const page = drawPage(sketch);
    const [word] = whole.words;
    const half = (text: string, from: number, share: number) => ({
      ...word!,
      text,
      box: { ...word!.box, x: word!.box.x + from * word!.box.width, width: share * word!.box.width },
      origin: { ...word!.origin, x: word!.origin.x + from * word!.box.width },
    });
    const cut = { ...page, facts: { ...page.facts, words: [half('buch', 0, 4 / 9), half('druck', 4 / 9, 5 / 9)] } };
    const sides = { dummy: preparePage(page), revision: preparePage(cut) };
    expect(compareText(sides, null, [], DEFAULT_TOLERANCES).findings).toEqual([]);
  });
});

describe('the places that were judged as text', () => {
  it('are those of all words of both pages, a little larger', () => {
    const { judged } = compareLines(paragraph(['riva']), paragraph(['riva', 'am see']));
    expect(judged).toHaveLength(4);
    const { box } = setLine(paragraph(['riva'])[0]!).words[0]!;
    expect(judged[0]!.x).toBeLessThan(box.x);
    expect(judged[0]!.x + judged[0]!.width).toBeGreaterThan(box.x + box.width);
  });

  it('are none on pages without words, and there is nothing to tell', () => {
    const artwork = [{ box: { x: 5, y: 5, width: 40, height: 20 }, scene: photograph(1) }];
    expect(compare({ artwork }, { artwork })).toEqual({ findings: [], judged: [], wantsFine: false });
  });
});
