import type { Access } from './access.ts';
import { numberIn } from './row.ts';

/** A folding plan that was given to a part, to be named by plates inputs that are sent into it. */
export interface GivenPlan {
  readonly partId: string;
  /** Of the plan as `witnessleaf-plan/1`, a blob. */
  readonly sha256: string;
  /** Of the book that it is a plan of. */
  readonly pages: number;
}

/** Plans that were given. */
export interface GivenPlans {
  /** Given again, it is the same one. */
  add(plan: GivenPlan & { readonly personId: string; readonly at: number }): Promise<void>;
  /** Null where none of this hash was given to the part. */
  get(partId: string, sha256: string): Promise<GivenPlan | null>;
}

/** The table of plans that were given. */
export function givenPlansIn(access: Access): GivenPlans {
  return {
    add: (plan) =>
      access.write(
        (database) =>
          void database.run(
            `INSERT INTO given_plan (part_id, blob, pages, person_id, at_ms)
             SELECT :partId, :sha256, :pages, :personId, :at WHERE NOT EXISTS
               (SELECT 1 FROM given_plan WHERE part_id = :partId AND blob = :sha256)`,
            { ...plan },
          ),
      ),
    get: (partId, sha256) =>
      access.read((database) => {
        const row = database.one('SELECT pages FROM given_plan WHERE part_id = :partId AND blob = :sha256', {
          partId,
          sha256,
        });
        return row && { partId, sha256, pages: numberIn(row, 'pages') };
      }),
  };
}
