import type { Mm } from '../model/index.ts';

/** The collating mark of a section as it stands in the file, and whether pages tell which section it is. */
export interface MarkOnSection {
  /** Null where none was read. */
  readonly fromHeadMm: Mm | null;
  readonly isToldByPages: boolean;
}

/** Nearer marks are one step. */
const SAME_MM = 1;
/** A mark further down than so many times the steps of the book is something else. */
const MOST_STRAY = 2;
/** How far a mark may lie beside its step, in steps. */
const BESIDE = 0.15;

/**
 * Which section each one is by its mark. Marks stand in steps from the head downwards, a step a section, and begin again
 * at the head behind the lowest one; where pages tell otherwise, upwards.
 *
 * @param marks  in the order of the file
 * @returns for each the section from 1, over their number where a mark is of no section of the book; null where its mark tells nothing
 * @source common practice, no source
 */
export function sectionsByMarks(marks: readonly MarkOnSection[]): readonly (number | null)[] {
  const nothing = marks.map(() => null);
  const steps = stepsOf(marks.map(({ fromHeadMm }) => fromHeadMm));
  if (steps === null) return nothing;
  const down = inDirection(marks, steps);
  const most = Math.max(...steps.map((step) => step ?? 0));
  const up = inDirection(
    marks,
    steps.map((step) => (step === null ? null : most - step)),
  );
  const agreeing = (sections: typeof down): number =>
    marks.filter(({ isToldByPages }, index) => isToldByPages && sections?.[index] === index + 1).length;
  return (agreeing(up) > agreeing(down) ? up : down) ?? nothing;
}

/** Each mark by its step, from 0 at the head; null where they do not stand in steps. */
function stepsOf(marks: readonly (Mm | null)[]): readonly (number | null)[] | null {
  const sorted = marks.flatMap((mark) => (mark === null ? [] : [mark])).sort((one, other) => one - other);
  const apart = sorted.slice(1).map((mark, index) => mark - sorted[index]!);
  const [head] = sorted;
  const step = Math.min(...apart.filter((distance) => distance > SAME_MM));
  if (head === undefined || !Number.isFinite(step)) return null;
  const places = marks.map((mark) => (mark === null ? null : (mark - head) / step));
  return places.every((place) => place === null || Math.abs(place - Math.round(place)) <= BESIDE)
    ? places.map((place) => (place === null ? null : Math.round(place)))
    : null;
}

/** The sections that steps stand for: counted from where most of them agree with the file. */
function inDirection(
  marks: readonly MarkOnSection[],
  steps: readonly (number | null)[],
): readonly (number | null)[] | null {
  const around = 1 + Math.max(...steps.map((step) => step ?? 0));
  const isWhole = steps.every((step) => step !== null);
  // where they begin again, which round a mark is of is told by its place in the file
  const rounds = isWhole && around < marks.length ? inRounds(steps, around) : null;
  if (rounds !== null) return rounds;
  const weight = (first: number): number =>
    marks.reduce((sum, { isToldByPages }, index) => {
      const step = steps[index];
      return step != null && step + first === index + 1 ? sum + (isToldByPages ? 2 : 1) : sum;
    }, 0);
  // a mark that is there twice, or below all steps of the book, is wrong: then the others must tell where they begin
  const isOfAnother = around > marks.length;
  const isWrong = isOfAnother || (isWhole && around < marks.length);
  if (around > MOST_STRAY * marks.length) return null;
  const firsts = Array.from({ length: isOfAnother ? marks.length : marks.length - around + 1 }, (_, at) => at + 1);
  const first = firsts.reduce((best, other) => (weight(other) > weight(best) ? other : best));
  const agreeing = steps.filter((step, index) => step !== null && step + first === index + 1).length;
  if (isWrong && agreeing <= marks.length / 2) return null;
  return steps.map((step) => (step === null ? null : step + first));
}

/** Null where a round lacks a mark. */
function inRounds(steps: readonly number[], around: number): readonly number[] | null {
  const seen = new Map<number, number>();
  const sections = steps.map((step) => {
    const round = seen.get(step) ?? 0;
    seen.set(step, round + 1);
    return round * around + step + 1;
  });
  return new Set(sections).size === steps.length && Math.max(...sections) === steps.length ? sections : null;
}
