import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import type { FindingKind } from '../../../src/model/index.ts';
import type { Trial } from './trial.ts';

/** `expected.json`: what is true about a pair of files that somebody else made. */
const EXPECTED = z.object({
  /** For each page of the revision the dummy page it is, null where it is new. */
  origins: z.array(z.number().int().positive().nullable()).optional(),
  findings: z.array(
    z.object({
      kind: z.string(),
      dummyPage: z.number().int().positive().nullable(),
      revisionPage: z.number().int().positive().nullable(),
      figures: z
        .object({
          shiftXmm: z.number(),
          shiftYmm: z.number(),
          scale: z.number(),
          degrees: z.number(),
          areaMm2: z.number(),
          cutMm: z.object({ edge: z.enum(['left', 'right', 'top', 'bottom']), mm: z.number() }),
        })
        .partial()
        .optional(),
      oftenTold: z.boolean().optional(),
    }),
  ),
});

/**
 * Pairs of files from a folder outside: in each folder of it `dummy.pdf`, `revision.pdf`, `expected.json`. Without findings
 * in it, the pair must stay silent.
 *
 * @throws {Error} an `expected.json` that does not fit its form
 */
export function outsideTrials(folder: string): readonly Trial[] {
  const names = readdirSync(folder).filter((name) => existsSync(join(folder, name, 'expected.json')));
  return names.sort().map((name): Trial => {
    const { origins, findings } = EXPECTED.parse(JSON.parse(readFileSync(join(folder, name, 'expected.json'), 'utf8')));
    return {
      name: `outside: ${name}`,
      group: 'outside',
      sheets: null,
      wanted: findings.map(({ kind, dummyPage, revisionPage, figures, oftenTold }) => ({
        kind: kind as FindingKind,
        dummyPages: dummyPage === null ? [] : [dummyPage],
        revisionPages: revisionPage === null ? [] : [revisionPage],
        ...(figures === undefined ? {} : { figures: known(figures) }),
        ...(oftenTold === undefined ? {} : { oftenTold }),
      })),
      origins: origins ?? null,
      make: () =>
        Promise.resolve({
          dummyPath: join(folder, name, 'dummy.pdf'),
          revisionPath: join(folder, name, 'revision.pdf'),
        }),
    };
  });
}

/** The fields that are there; optional ones of a parsed form may be there and undefined. */
function known<T extends object>(figures: T): { [K in keyof T]: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(figures).filter(([, value]) => value !== undefined)) as {
    [K in keyof T]: Exclude<T[K], undefined>;
  };
}
