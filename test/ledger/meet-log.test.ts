import { describe, expect, it } from 'vitest';
import {
  formatVerifierKey,
  hexOf,
  meetLog,
  proveConsistency,
  requireContinues,
  rootAt,
  signCheckpoint,
  type KeptHead,
} from '../../src/ledger/index.ts';
import { growLog, numbered, type GrownLog } from './grown-log.ts';
import { refusalLater } from './refusal-later.ts';
import { newSigner } from './seeded-key.ts';

const ORIGIN = 'archive.example/books';
const signer = await newSigner(ORIGIN);
const verifierKey = formatVerifierKey(signer.verifier);
const log = growLog(numbered(12));
const rewritten = growLog(numbered(12).with(3, new TextEncoder().encode('as the archive would have liked it')));

const shownOf = async (of: GrownLog, size: number, by = signer): Promise<KeptHead> => ({
  verifierKey: formatVerifierKey(by.verifier),
  note: await signCheckpoint({ origin: ORIGIN, size, root: await rootAt(of, size) }, by),
});
const proverOf = (of: GrownLog) => (oldSize: number, newSize: number) => proveConsistency(of, { oldSize, newSize });
const prove = proverOf(log);

describe('an archive that is met before something is signed', () => {
  it('for the first time is taken as it is, and remembered', async () => {
    const shown = await shownOf(log, 5);
    expect(await meetLog({ kept: null, shown, prove })).toMatchObject({
      ...{ isFirst: true, keep: shown },
      head: { origin: ORIGIN, size: 5 },
    });
  });

  it('again is remembered with what was added, or as it was where its answer came late', async () => {
    const [before, now] = [await shownOf(log, 5), await shownOf(log, 12)];
    const met = await meetLog({ kept: before, shown: now, prove });
    expect(met).toMatchObject({ isFirst: false, keep: now, head: { size: 12 } });
    expect(await meetLog({ kept: now, shown: before, prove })).toMatchObject({ keep: now, head: { size: 12 } });
    const none = await shownOf(log, 0);
    expect(await meetLog({ kept: none, shown: now, prove })).toMatchObject({ keep: now });
  });

  it.each([
    ['rewritten', 5, 12, rewritten],
    ['rewritten', 12, 12, rewritten],
    ['shrunk', 12, 5, rewritten],
    ['shrunk', 12, 0, log],
  ] as const)('with a history that is %s is told, with both heads as proof', async (how, keptSize, size, other) => {
    const kept = await shownOf(log, keptSize);
    const met = await meetLog({ kept, shown: await shownOf(other, size), prove: proverOf(other) });
    expect(met).toMatchObject({ split: { kind: 'split', how, kept: { size: keptSize }, shown: { size } } });
  });

  it('under another key than before is refused, whatever key it says is its own', async () => {
    const other = await newSigner(ORIGIN);
    const shown = await shownOf(log, 12, other);
    const checks = [{ name: 'signature', expected: 'of the archive as it was met', found: 'no-known-key' }];
    const refused = { kind: 'unproven', what: 'the archive’s log', checks };
    expect(await refusalLater(() => meetLog({ kept: null, shown: { ...shown, verifierKey }, prove }))).toMatchObject({
      kind: 'unproven',
    });
    const told = await refusalLater(async () => meetLog({ kept: await shownOf(log, 5), shown, prove }));
    expect(told).toMatchObject({ ...refused, checks: [{ name: 'signature' }] });
  });
});

describe('a head that a draft names', () => {
  const met = async (size: number) => ({ origin: ORIGIN, size, root: await rootAt(log, size) });
  const named = async (of: GrownLog, size: number, origin = ORIGIN) => ({
    origin,
    size,
    root: hexOf(await rootAt(of, size)),
  });

  it('may be the one that was met, or one that continues it', async () => {
    for (const [from, to] of [
      [5, 5],
      [5, 12],
      [0, 12],
    ] as const) {
      expect(await requireContinues(await met(from), await named(log, to), prove)).toBe(undefined);
    }
  });

  it.each([
    ['of another archive', log, 12, 'other.example/log', ORIGIN, 'other.example/log'],
    ['older', log, 4, ORIGIN, 'a log of at least 5 entries', 'one of 4'],
    [
      'rewritten, of one size',
      rewritten,
      5,
      ORIGIN,
      'a head that continues the one of 5 entries',
      'one that is rewritten',
    ],
    [
      'rewritten and grown',
      rewritten,
      12,
      ORIGIN,
      'a head that continues the one of 5 entries',
      'one that is rewritten',
    ],
  ])('is refused where it is %s', async (_is, of, size, origin, expected, found) => {
    const asked = async () => requireContinues(await met(5), await named(of, size, origin), proverOf(of));
    const checks = [{ name: 'history', expected, found }];
    expect(await refusalLater(asked)).toEqual({ kind: 'unproven', what: 'the archive’s log', checks });
  });

  it('is refused where its root is no hash', async () => {
    const asked = async () => requireContinues(await met(5), { origin: ORIGIN, size: 12, root: 'x' }, prove);
    expect(await refusalLater(asked)).toMatchObject({ kind: 'unproven' });
  });
});
