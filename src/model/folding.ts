/** How leaves are held: sections in sequence (`sewn`, `perfect-bound`), or one inside the other (`saddle-stitched`). */
export const BINDINGS = ['sewn', 'perfect-bound', 'saddle-stitched'] as const;
/** One of `BINDINGS`. */
export type Binding = (typeof BINDINGS)[number];

/**
 * How the sheet meets the press a second time. `sheetwise`: other plates, turned about the upright axis.
 * `sheetwise-tumbled`: other plates, turned about the level axis, so that the back stands on its head against the front.
 * `work-and-turn`: the same plates, turned about the upright axis. `work-and-tumble`: the same ones, about the level axis.
 */
export const WORKINGS = ['sheetwise', 'sheetwise-tumbled', 'work-and-turn', 'work-and-tumble'] as const;
/** One of `WORKINGS`. */
export type Working = (typeof WORKINGS)[number];

/** Whether each side has plates of its own; else one forme prints both. */
export function hasTwoFormes(working: Working): boolean {
  return working === 'sheetwise' || working === 'sheetwise-tumbled';
}

/** Whether the sheet is turned about its level axis, so that its other edge comes to lie at the gripper. */
export function isTumbled(working: Working): boolean {
  return working === 'sheetwise-tumbled' || working === 'work-and-tumble';
}

/** How a section folds and is held, as people say it. */
export interface SaidFolds {
  /** Its pages, or its folds. */
  readonly fold: string;
  readonly bound: Binding;
  readonly working: Working;
}

/** How a sender says that sheets fold: by a plan that was given to the part, named by its SHA-256, or by rules. */
export type SaidFolding = { readonly plan: string } | SaidFolds;
