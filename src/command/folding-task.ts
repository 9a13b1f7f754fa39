import { readFile } from 'node:fs/promises';
import type { Binding, Working } from '../model/index.ts';
import { BINDINGS, Refusal, WORKINGS } from '../model/index.ts';
import type { Plan } from '../plates/index.ts';
import { parsePlan, SECTION_PAGES } from '../plates/index.ts';

/** What is said of how sheets fold; neither plan nor fold: it is found from them. */
export interface FoldingTask {
  /** A file. */
  readonly plan: string | null;
  /** Pages of a section, or its folds. */
  readonly fold: string | null;
  readonly bound: Binding;
  readonly working: Working;
}

/** What was typed of it. */
export interface TypedFolding {
  readonly plan?: string;
  readonly fold?: string;
  readonly bound?: string;
  readonly working?: string;
}

/** Reads the options that say how sheets fold; a sentence where they do not fit each other. */
export function foldingTask({ plan, fold, bound, working }: TypedFolding): FoldingTask | string {
  if (plan !== undefined && fold !== undefined) return 'either --plan or --fold says how sheets are folded';
  if (bound !== undefined && fold === undefined) return '--bound goes with --fold';
  if (working !== undefined && fold === undefined) return '--working goes with --fold';
  const binding = BINDINGS.find((one) => one === (bound ?? 'sewn'));
  if (binding === undefined) return `--bound: one of ${BINDINGS.join(', ')} expected, ${bound ?? ''} found`;
  const worked = WORKINGS.find((one) => one === (working ?? 'sheetwise'));
  if (worked === undefined) return `--working: one of ${WORKINGS.join(', ')} expected, ${working ?? ''} found`;
  if (fold !== undefined && /^\d+$/.test(fold) && !SECTION_PAGES.includes(Number(fold))) {
    return `--fold: ${SECTION_PAGES.join(', ')} pages expected, ${fold} found; other sections by their folds`;
  }
  return { plan: plan ?? null, fold: fold ?? null, bound: binding, working: worked };
}

/**
 * A plan from a file.
 *
 * @param named  as the person called it
 * @throws {Refusal} not-found: there is no such file; malformed: as `parsePlan`
 */
export async function readPlanFile(path: string, named: string): Promise<Plan> {
  const text = await readFile(path, 'utf8').catch((error: unknown) => {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') {
      throw new Refusal('not-found', { what: named });
    }
    throw error;
  });
  return parsePlan(text);
}
