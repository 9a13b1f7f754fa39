import type { ComponentType } from 'react';

/** What a view is given: the ids of its address, by the names in its path. */
export interface ViewGiven {
  readonly params: Readonly<Record<string, string>>;
}

/** A view and where it hangs. */
export interface View {
  /** As `paths` has it, with `:name` for each id. */
  readonly path: string;
  readonly shows: ComponentType<ViewGiven>;
  /** True: shown without anybody being signed in. */
  readonly isOpen?: true;
  /** True: as wide as the window, for pictures. */
  readonly isWide?: true;
}
