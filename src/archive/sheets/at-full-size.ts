import type { Finding } from '../../model/index.ts';
import { scaleByBoxes, scaleByWords } from '../../plates/index.ts';
import type { Plan } from '../../plates/index.ts';
import type { DescribedFile } from '../check-request.ts';
import type { ReadingTools } from '../read-file.ts';
import { describeFile, runJob } from '../read-file.ts';
import type { ReadSide, SheetsRead } from './read-sheets.ts';
import type { SheetsSource } from './sheets-source.ts';

/** A scale nearer to 1 is none: under a millimetre on the longest page. What it shifts is told of the page itself. */
const NO_SCALE = 0.003;

/** Sheets as they were read. */
export interface SheetsAsRead {
  readonly source: SheetsSource;
  readonly file: DescribedFile;
  readonly sides: readonly ReadSide[];
}

/** Sheets with pages of the dummy's size. */
export interface SheetsAtFullSize extends SheetsAsRead {
  /** What their pages were brought from, over the dummy. */
  readonly scale: number;
}

/**
 * Sheets whose pages were placed smaller or larger than they are, enlarged or reduced so that they have their size, and
 * looked at again; others as they are, and plates. Words tell the scale; where there are none, the boxes that pages were
 * placed with.
 */
export async function atFullSize(
  sent: SheetsAsRead,
  { pages, trimmed }: Pick<SheetsRead, 'pages' | 'trimmed'>,
  tools: ReadingTools,
  look: (file: DescribedFile) => Promise<readonly ReadSide[]>,
): Promise<SheetsAtFullSize> {
  const { enlarged } = sent.source;
  if (enlarged === null) return { ...sent, scale: 1 };
  const byWords = scaleByWords(
    pages.map((page) => page?.words ?? []),
    sent.sides.map(({ words }) => words),
  );
  const told = byWords ?? scaleByBoxes(await boxScales(sent.file, trimmed, tools));
  if (told === null || Math.abs(told - 1) < NO_SCALE) return { ...sent, scale: 1 };
  const source = await enlarged(sent.file, 1 / told);
  const file = await describeFile(tools, source.book, () => undefined);
  return { source, file, sides: await look(file), scale: told };
}

async function boxScales(
  file: DescribedFile,
  trimmed: Plan['trimmed'],
  tools: ReadingTools,
): Promise<readonly number[]> {
  const { limits } = tools;
  const scales = await Promise.all(
    file.pages.map((page) => {
      if ('unreadable' in page) return Promise.resolve([]);
      const { path, pageNumber } = file.sourceOf(page.pageNumber);
      return runJob(tools, { do: 'box-scales', path, pageNumber, trimmed, side: page.trimmed, limits });
    }),
  );
  return scales.flat();
}

/** That pages stand on their sheets in another size; told once of all of them. */
export function tellScale(scale: number, { width, height }: Plan['trimmed']): readonly Finding[] {
  if (scale === 1) return [];
  const is = { width: width * scale, height: height * scale };
  const size = (of: Plan['trimmed']): string => `${of.width.toFixed(1)} x ${of.height.toFixed(1)} mm`;
  const how = scale < 1 ? 'reduced' : 'enlarged';
  return [
    {
      kind: 'page-resized',
      weight: 'stop',
      dummyPage: null,
      revisionPage: null,
      box: null,
      revisionBox: null,
      measured: { dummyMm: { width, height }, revisionMm: is },
      says: `All pages stand on the sheets ${how} to ${(scale * 100).toFixed(1)} %: ${size(is)}; in the dummy they measure ${size({ width, height })}. They were compared at the dummy's size.`,
    },
  ];
}
