import type { CheckedSheets, PlanChoice, SheetsRequest } from '../archive/index.ts';
import { formatPlan, parseRule } from '../plates/index.ts';
import { writeWhole } from '../reporting/report/index.ts';
import type { Checking } from './compare.ts';
import { readPlanFile } from './folding-task.ts';
import type { ImposedTask } from './imposed-task.ts';
import { requireTarget } from './user-files.ts';
import type { Target } from './user-files.ts';

/** Where a comparison of sheets is made; the tests put their own here. */
export type SheetsChecking = (request: SheetsRequest) => Promise<CheckedSheets>;

const PLAN_MARK = '"format":"witnessleaf-plan/';

/**
 * A comparison of sheets that goes on like any other: with the folded book for a revision.
 *
 * @param at  a path as the person means it
 * @throws {Refusal} not-found: there is no such plan; malformed: a plan or folds that do not fit, or a target that holds
 * something else
 */
export async function imposedChecking(
  task: ImposedTask,
  at: (path: string) => string,
  checking: SheetsChecking,
): Promise<Checking> {
  const planChoice = await choosePlan(task, at);
  const target: Target | null = task.savePlan === null ? null : { path: at(task.savePlan), mark: PLAN_MARK };
  return async ({ revisionPath, ...request }) => {
    if (target !== null) await requireTarget(target, [request.dummyPath, revisionPath, ...task.plates.map(at)]);
    const furtherPaths = task.plates.map(at);
    const checked = await checking({ ...request, sheetsPath: revisionPath, furtherPaths, planChoice });
    if (target !== null) await writeWhole(target.path, formatPlan(checked.plan));
    return checked;
  };
}

async function choosePlan(
  { plan, fold, bound, working }: ImposedTask,
  at: (path: string) => string,
): Promise<PlanChoice> {
  if (plan !== null) return { from: 'given', plan: await readPlanFile(at(plan), plan) };
  if (fold === null) return { from: 'found' };
  return { from: 'made', ...parseRule({ fold, bound, working }) };
}
