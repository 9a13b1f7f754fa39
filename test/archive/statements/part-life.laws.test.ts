import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { afterAct, bothSigned, inForce, requireAct, UNSIGNED } from '../../../src/archive/statements/part-life.ts';
import type { PartAct, PartLife } from '../../../src/archive/statements/part-life.ts';
import { Refusal, type Party } from '../../../src/model/index.ts';

const DUMMIES = ['d1', 'd2', 'd3'];
const party = fc.constantFrom<Party>('publisher', 'printer');
const dummyId = fc.constantFrom(...DUMMIES);
const act: fc.Arbitrary<PartAct> = fc.oneof(
  fc.record({ kind: fc.constant('sign-off' as const), dummyId }),
  fc.record({ kind: fc.constant('withdrawal' as const), dummyId }),
  fc.record({ kind: fc.constant('replacement' as const), inForceId: dummyId, dummyId }),
  fc.record({
    kind: fc.constant('release' as const),
    dummyId,
    fileId: fc.constantFrom('p1', 'p2'),
    reportId: fc.constantFrom('r1', 'r2'),
    rulings: fc.constantFrom([], ['s1']),
  }),
);
const acts = fc.array(fc.record({ party, act }), { maxLength: 40 });

interface Taken {
  readonly party: Party;
  readonly act: PartAct;
  readonly before: PartLife;
  readonly after: PartLife;
}

/** What becomes of a part when each act is tried, and those that are refused change nothing. */
function lived(tried: readonly { readonly party: Party; readonly act: PartAct }[]): readonly Taken[] {
  let life = UNSIGNED;
  return tried.flatMap((one, logIndex) => {
    try {
      requireAct(life, one.party, one.act);
    } catch (error) {
      if (error instanceof Refusal && error.kind === 'out-of-step') return [];
      throw error;
    }
    const before = life;
    life = afterAct(life, { party: one.party, statementId: `s${logIndex}`, logIndex, atMs: logIndex }, one.act);
    return [{ ...one, before, after: life }];
  });
}

describe('whatever two sides state on a part, in whatever order,', () => {
  it('a dummy is in force only when both have signed it, and each for this very step', () => {
    fc.assert(
      fc.property(acts, (tried) => {
        for (const { contracts } of lived(tried).map(({ after }) => after)) {
          expect(contracts.every(({ signatures }) => signatures.length === 2 && bothSigned(signatures))).toBe(true);
          const used = contracts.flatMap(({ signatures }) => signatures.map(({ statementId }) => statementId));
          expect(new Set(used).size).toBe(used.length);
        }
      }),
    );
  });

  it('the contract changes only by a signature that names it, and never to none', () => {
    fc.assert(
      fc.property(acts, (tried) => {
        for (const { act: taken, before, after } of lived(tried)) {
          const [former, now] = [inForce(before), inForce(after)];
          if (former === now) continue;
          expect(now?.replacedId ?? null).toBe(former?.dummyId ?? null);
          expect(taken.kind).toBe(former === null ? 'sign-off' : 'replacement');
          if (taken.kind === 'replacement') expect(taken.inForceId).toBe(former?.dummyId);
        }
      }),
    );
  });

  it('what was taken back is never in force, nor half signed', () => {
    fc.assert(
      fc.property(acts, (tried) => {
        const life = lived(tried).at(-1)?.after ?? UNSIGNED;
        for (const id of life.withdrawn.keys()) {
          expect(life.halfSigned.has(id)).toBe(false);
          expect(life.contracts.some((one) => one.dummyId === id)).toBe(false);
        }
      }),
    );
  });

  it('the same again by the same side is refused', () => {
    fc.assert(
      fc.property(acts, (tried) => {
        for (const { party: side, act: taken, after } of lived(tried)) {
          expect(() => requireAct(after, side, taken)).toThrow(Refusal);
        }
      }),
    );
  });

  it('a release is of both for the same file, report and rulings, and is on the dummy in force when it is signed', () => {
    fc.assert(
      fc.property(acts, (tried) => {
        for (const { act: taken, before, after } of lived(tried)) {
          if (taken.kind === 'release') expect(inForce(before)?.dummyId).toBe(taken.dummyId);
          const sizes = after.releases.map(({ signatures }) => signatures.length);
          expect(sizes.every((size) => size === 1 || size === 2)).toBe(true);
          const both = after.releases.filter(({ signatures }) => signatures.length === 2);
          expect(both.every(({ signatures }) => bothSigned(signatures))).toBe(true);
        }
      }),
    );
  });

  it('which side signs first makes no difference', () => {
    const signOff: PartAct = { kind: 'sign-off', dummyId: 'd1' };
    const orders = [
      ['publisher', 'printer'],
      ['printer', 'publisher'],
    ] as const;
    const [one, other] = orders.map(
      (order) => lived(order.map((side) => ({ party: side, act: signOff }))).at(-1)?.after,
    );
    expect(inForce(one!)?.dummyId).toBe('d1');
    expect(inForce(other!)?.dummyId).toBe('d1');
  });
});
