import type { Person } from '../cast.ts';
import { onTitle, SIGNING, type Ran, type Stage } from '../stage.ts';

/** A finding as the command line lists it. */
export interface Listed {
  /** Its number in the report. */
  readonly mark: string;
  readonly weight: string;
  readonly where: string;
  /** What was ruled; empty where nothing was. */
  readonly ruling: string;
  readonly says: string;
}

/** Sends a file of the story and waits for what is found in it. */
export async function sendAndHold(
  stage: Stage,
  person: Person,
  file: {
    readonly path: string;
    readonly kind: 'revision' | 'plates-input';
    readonly remark: string;
    /** Where only these are supplied again. */
    readonly pages?: string;
  },
): Promise<readonly Listed[]> {
  const { path, kind, remark, pages } = file;
  const only = pages === undefined ? [] : ['--pages', pages];
  await stage.run(person, ['send', path, ...onTitle(stage), '--kind', kind, '--remark', remark, ...only]);
  return heldAgainst(stage, person);
}

/** What the newest report on the last file says, once it is there. */
export async function heldAgainst(stage: Stage, person: Person): Promise<readonly Listed[]> {
  const ran = await stage.run(person, ['findings', ...onTitle(stage), '--wait'], [0, 1]);
  return ran.out.split('\n').flatMap((line) => {
    const [mark = '', weight = '', where = '', ruling = '', says = ''] = line.split('\t');
    return mark === '' ? [] : [{ mark, weight, where, ruling, says }];
  });
}

/** What nobody has settled yet and what is more than a note. */
export function openOf(listed: readonly Listed[]): readonly Listed[] {
  return listed.filter(({ weight, ruling }) => weight !== 'note' && ruling !== 'settled');
}

/** The first two revisions: prepared for press, then altered by both sides. @returns what is found in the second */
export async function playRevisions(stage: Stage): Promise<readonly Listed[]> {
  const { tell, cast, books } = stage;
  const prepared = { path: books.prepared, kind: 'revision', remark: 'process inks, 300 ppi' } as const;
  const silent = await sendAndHold(stage, cast.printer, prepared);
  if (openOf(silent).length > 0) throw new Error(`the clean preparation has findings: ${linesOf(silent).join('\n')}`);
  tell(`${cast.printer.name} sends the first revision, prepared for press. It matches the dummy: not a word is said.`);
  const corrected = { path: books.corrected, kind: 'revision', remark: 'the author’s corrections are in' } as const;
  const found = await sendAndHold(stage, cast.printer, corrected);
  tell(`${cast.printer.name} sends the second revision, with the author’s corrections. This is found in it:`);
  for (const line of linesOf(found)) tell(`  ${line}`);
  return found;
}

/** Both sides rule on what was found: what the author wanted is agreed, the rest is to be put right. */
export async function playRulings(stage: Stage, found: readonly Listed[]): Promise<readonly Ran[]> {
  const { tell, cast, books } = stage;
  const pages = new Set(books.authorsPages.map((page) => `page ${page}`));
  const isAuthors = ({ where }: Listed): boolean => pages.has(where);
  const wanted = openOf(found).filter(isAuthors);
  const wrong = openOf(found).filter((one) => !isAuthors(one));
  const ruled: Ran[] = [];
  if (wanted.length > 0) {
    ruled.push(await bothRule(stage, wanted, ['--agreed', '--account', 'authors-alteration']));
    tell(`Both agree to ${countOf(wanted)} as the author’s alteration: it may stay, on the publisher’s account.`);
  }
  if (wrong.length > 0) {
    ruled.push(await bothRule(stage, wrong, ['--put-right', '--account', 'printers-error']));
    tell(`Both rule that ${countOf(wrong)} must be put right, as the printer’s error: on the printer’s account.`);
  }
  const left = openOf(await heldAgainst(stage, cast.publisher));
  if (left.length > 0) throw new Error(`what both have ruled on is not settled: ${linesOf(left).join('\n')}`);
  return ruled;
}

/** The third revision: what was agreed stays settled, and something new went wrong. */
export async function playThirdRevision(stage: Stage): Promise<readonly Listed[]> {
  const { tell, cast, books } = stage;
  const slipped = { path: books.slipped, kind: 'revision', remark: 'put right as ruled' } as const;
  const found = await sendAndHold(stage, cast.printer, slipped);
  const fresh = openOf(found);
  if (fresh.length === 0) throw new Error('what slipped in the third revision was not found');
  tell(`The third revision keeps what was agreed (${countOf(settledOf(found))} settled), but something slipped:`);
  for (const line of linesOf(fresh)) tell(`  ${line}`);
  await bothRule(stage, fresh, ['--put-right', '--account', 'printers-error']);
  tell('Both rule that it must be put right.');
  return found;
}

/** What both have settled in the file that was held against the dummy last. */
export function settledOf(listed: readonly Listed[]): readonly Listed[] {
  return listed.filter(({ ruling }) => ruling === 'settled');
}

/** Findings as lines for people. */
export function linesOf(listed: readonly Listed[]): readonly string[] {
  return listed.map(({ mark, weight, where, says }) => `${mark}  ${weight}  ${where}: ${says}`);
}

async function bothRule(stage: Stage, on: readonly Listed[], decision: readonly string[]): Promise<Ran> {
  const marks = on.map(({ mark }) => mark).join(',');
  const words = ['ruling', ...onTitle(stage), '--findings', marks, ...decision, ...SIGNING];
  const first = await stage.run(stage.cast.publisher, words);
  await stage.run(stage.cast.printer, words);
  return first;
}

function countOf(listed: readonly Listed[]): string {
  return listed.length === 1 ? 'one finding' : `${listed.length} findings`;
}
