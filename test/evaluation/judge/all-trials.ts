import type { Store } from '../material/store.ts';
import { ALL_FAULTS } from '../seen/all-faults.ts';
import { makePlanted, originsOf } from '../seen/seen-case.ts';
import { PREPARATIONS } from '../silent/preparations.ts';
import { RE_SAVES } from '../silent/re-saves.ts';
import { sheetTrials } from '../sheets/sheet-trials.ts';
import type { Trial } from './trial.ts';
import { wantedOf } from './trial.ts';

/** Every trial of this project: what must stay silent, what must be seen. */
export function allTrials(store: Store): readonly Trial[] {
  const silent = [...RE_SAVES, ...PREPARATIONS].map((preparation): Trial => ({
    name: `silent: ${preparation.name}`,
    group: 'silent',
    sheets: null,
    wanted: [],
    origins: Array.from({ length: preparation.pages }, (_, index) => index + 1),
    make: () => preparation.make(store),
  }));
  const seen = ALL_FAULTS.map((fault): Trial => {
    const origins = originsOf(fault);
    return {
      name: `${fault.excerpt}: ${fault.name}`,
      group: 'seen',
      sheets: null,
      wanted: wantedOf(fault, origins),
      origins,
      make: () => makePlanted(fault, store),
    };
  });
  return [...silent, ...seen, ...sheetTrials(store)];
}
