import { cp } from 'node:fs/promises';
import { excerpt, unaltered } from '../../../demo/book/edits/pages.ts';
import type { Preparation } from '../../../demo/book/preparation.ts';
import { DUMMY } from '../../../demo/book/preparation.ts';
import type { BookSpec } from '../../../demo/book/spec.ts';
import type { SheetFault } from '../../../demo/sheets/faults.ts';
import { imposeSheets } from '../../../demo/sheets/impose.ts';
import type { SheetMarks } from '../../../demo/sheets/marks.ts';
import type { PlanChoice } from '../../../src/archive/index.ts';
import { makePlan } from '../../../src/plates/index.ts';
import type { Plan, PlanOrder } from '../../../src/plates/index.ts';
import type { ShelvedBook } from '../books/shelf.ts';
import { ghostscript } from '../material/outside-tools.ts';
import type { Screening } from '../material/screen-plates.ts';
import { screenPlates } from '../material/screen-plates.ts';
import { bookFile, processedFile } from '../material/store.ts';
import type { Store } from '../material/store.ts';
import type { PlantedFault } from '../seen/planted-fault.ts';
import type { PlateFault } from './plate-faults.ts';
import { plantPlateFault } from './plate-faults.ts';

/** A book made up on sheets, and what was done to them. */
export interface SheetCase {
  readonly name: string;
  readonly book: ShelvedBook;
  readonly spec: BookSpec;
  /** Only these pages of `spec`, after what went wrong with one of them; all where absent. */
  readonly pages?: readonly number[];
  readonly revision: Preparation;
  readonly plan: Omit<PlanOrder, 'pages' | 'trimmed'>;
  /** How the check is told of the plan. */
  readonly told: 'given' | 'made' | 'found';
  readonly marks?: Partial<SheetMarks>;
  /** What went wrong when the sheets were made up. */
  readonly faults?: readonly SheetFault[];
  /** What went wrong with a page before. */
  readonly planted?: PlantedFault;
  /** Pages that were taken from another file, in which this had gone wrong: an older revision. */
  readonly older?: { readonly pages: readonly number[]; readonly planted: PlantedFault };
  /** The sheets after another program, or as plates of one bit by another program, each ink at its angle or all at one. */
  readonly after?: 'distilled again' | 'one-bit plates' | 'one-bit plates, one angle';
  /** What went wrong with plates of one bit. */
  readonly plateFaults?: readonly PlateFault[];
}

/** The files of a case, and how they are to be checked. */
export interface MadeSheets {
  readonly dummyPath: string;
  readonly sheetsPath: string;
  readonly planChoice: PlanChoice;
}

/** The coarsest that platesetters use, and what photo books are screened with. Common practice, no source. */
const ROSETTES: Screening = { ppi: 1200, rulingLpi: 150 };
const ONE_ANGLE: Screening = { ...ROSETTES, rulingLpi: null };

/** The plan of a case. */
export function planOf({ spec, plan, pages }: SheetCase): Plan {
  return makePlan({ ...plan, pages: (pages ?? spec.pages).length, trimmed: spec.trimMm });
}

/** Makes the files of a case, each once for all cases that share it. */
export async function makeSheets(made: SheetCase, store: Store): Promise<MadeSheets> {
  const { book, spec, pages, revision, planted, older, faults = [], marks = {}, told } = made;
  const plan = planOf(made);
  const taken = (whole: BookSpec): BookSpec => (pages === undefined ? whole : excerpt(whole, pages));
  const altered = (fault: PlantedFault | undefined): BookSpec => taken(fault?.edit(unaltered(spec)).book ?? spec);
  const dummyPath = await bookFile(store, book, taken(spec), DUMMY);
  const bookPath = await bookFile(store, book, altered(planted), revision);
  const other = older && {
    path: await bookFile(store, book, altered(older.planted), revision),
    pages: older.pages,
  };
  const done = ['sheets', JSON.stringify([plan, faults, marks, other ?? null])];
  const sheets = await processedFile(store, bookPath, done, (source, outPath) =>
    imposeSheets({ bookPath: source, plan, outPath, faults, marks, ...(other && { otherPages: other }) }),
  );
  const sheetsPath = await afterwards(sheets, made, store);
  return { dummyPath, sheetsPath, planChoice: choiceOf(made, plan, told) };
}

function choiceOf({ plan: { binding, sections } }: SheetCase, plan: Plan, told: SheetCase['told']): PlanChoice {
  if (told === 'given') return { from: 'given', plan };
  if (told === 'made') return { from: 'made', binding, sectionPages: sections[0]!.pages };
  return { from: 'found' };
}

/** @source Ghostscript's devices pdfwrite and tiffsep1 are the outside programs */
async function afterwards(sheets: string, { after, plateFaults = [] }: SheetCase, store: Store): Promise<string> {
  if (after === undefined) return sheets;
  if (after === 'distilled again') {
    return processedFile(store, sheets, ['distilled-sheets'], (source, target) =>
      ghostscript(source, target, ['-dPassThroughJPEGImages=true']),
    );
  }
  const screening = after === 'one-bit plates' ? ROSETTES : ONE_ANGLE;
  const plates = await processedFile(store, sheets, ['plates', JSON.stringify(screening)], (source, folder) =>
    screenPlates(source, folder, screening),
  );
  if (plateFaults.length === 0) return plates;
  return processedFile(store, plates, ['faulty-plates', JSON.stringify(plateFaults)], async (source, folder) => {
    await cp(source, folder, { recursive: true });
    for (const fault of plateFaults) await plantPlateFault(folder, fault, sheets, screening);
  });
}
