import { describe, expect, it } from 'vitest';
import { exportedFromText } from '../../.house/exported.ts';

const TEXT = `
import { Refusal } from '../model/index.ts';

/**
 * Folds a sheet.
 *
 * @param sheet  its pages
 * @param turnDeg  of the sheet
 * @throws {Refusal} malformed: no pages
 * @source common practice, no source
 */
export function foldSheet({ sheet, plan: folding }: Sheet, turnDeg: number): void {
  if (sheet.length === 0) throw new Refusal('malformed', {});
}

export const bare = (page: number) => page;
const hidden = 1;
export * from './other.ts';

/** A forme. */
export class Forme {
  /** Turns it. */
  turn(): void {}
  #inner(): void {}
  private old(): void {}
}

export interface Sheet {}
`;

const nothing = { documented: false, throws: [], sources: [], params: [], parameters: [], refuses: false };

describe('what is counted as offered by a file', () => {
  it('is every declaration with export, and the public methods of a class, with what their comments say', () => {
    const found = exportedFromText('src/plates/fold.ts', TEXT).map(({ line: _line, ...rest }) => rest);
    const file = 'src/plates/fold.ts';
    expect(found).toEqual([
      {
        file,
        name: 'foldSheet',
        kind: 'function',
        documented: true,
        throws: ['{Refusal} malformed: no pages'],
        sources: ['common practice, no source'],
        params: ['sheet', 'turnDeg'],
        parameters: ['sheet', 'plan', 'folding', 'turnDeg'],
        refuses: true,
      },
      { ...nothing, file, name: 'bare', kind: 'function', parameters: ['page'] },
      { ...nothing, file, name: 'Forme', kind: 'class', documented: true },
      { ...nothing, file, name: 'Forme.turn', kind: 'method', documented: true },
      { ...nothing, file, name: 'Sheet', kind: 'type' },
    ]);
  });
});
