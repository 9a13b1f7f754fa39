import type { Trial } from '../judge/trial.ts';
import type { Store } from '../material/store.ts';
import { CLEAN_SHEETS } from './clean-sheets.ts';
import { FAULTY_PLATES } from './faulty-plates.ts';
import { FAULTY_SHEETS } from './faulty-sheets.ts';
import { makeSheets, planOf } from './sheet-case.ts';
import type { SheetCase } from './sheet-case.ts';

/** Books on sheets: those that must stay silent, and those with something wrong. */
export function sheetTrials(store: Store): readonly Trial[] {
  const clean = CLEAN_SHEETS.map((made): Trial =>
    trialOf(store, made, { name: `silent sheets: ${made.name}`, group: 'silent', wanted: [] }),
  );
  const faulty = [...FAULTY_SHEETS, ...FAULTY_PLATES].map(({ made, wanted, exchanged = [], standing = [] }): Trial => {
    const trial = trialOf(store, made, { name: `sheets: ${made.name}`, group: 'seen', wanted });
    const origins = [...(trial.origins ?? [])];
    for (const [one, other] of exchanged) [origins[one - 1], origins[other - 1]] = [other, one];
    for (const [place, page] of standing) origins[place - 1] = page;
    return { ...trial, origins };
  });
  return [...clean, ...faulty];
}

function trialOf(store: Store, made: SheetCase, told: Pick<Trial, 'name' | 'group' | 'wanted'>): Trial {
  return {
    ...told,
    sheets: planOf(made).sheets.length,
    origins: Array.from({ length: planOf(made).pages }, (_, index) => index + 1),
    async make() {
      const { dummyPath, sheetsPath, planChoice } = await makeSheets(made, store);
      return { dummyPath, revisionPath: sheetsPath, planChoice };
    },
  };
}
