import { describe, expect, it } from 'vitest';
import {
  checkHistory,
  compareHeads,
  EMPTY_ROOT,
  formatVerifierKey,
  meetArchive,
  proveConsistency,
  rootAt,
  signCheckpoint,
  type Checkpoint,
} from '../../src/ledger/index.ts';
import { refusalOf } from '../refusal-of.ts';
import { growLog, numbered, type GrownLog } from './grown-log.ts';
import { refusalLater } from './refusal-later.ts';
import { newSigner } from './seeded-key.ts';

const ORIGIN = 'archive.example/books';
const log = growLog(numbered(12));
const rewritten = growLog(
  numbered(12).with(3, new TextEncoder().encode('entry 3, as the archive would have liked it')),
);

const headOf = async (of: GrownLog, size: number): Promise<Checkpoint> => ({
  origin: ORIGIN,
  size,
  root: await rootAt(of, size),
});
const proofOf = (of: GrownLog, oldSize: number, newSize: number) => proveConsistency(of, { oldSize, newSize });

describe('a head that an archive shows, beside the one remembered', () => {
  it('is the same', async () => {
    const head = await headOf(log, 5);
    expect(compareHeads({ kept: head, shown: head, proof: [] })).toEqual({ kind: 'same' });
  });

  it('has grown by what was added', async () => {
    const [kept, shown] = [await headOf(log, 5), await headOf(log, 12)];
    expect(compareHeads({ kept, shown, proof: await proofOf(log, 5, 12) })).toEqual({ kind: 'grown', by: 7 });
  });

  it('has grown from nothing', async () => {
    const [kept, shown] = [await headOf(log, 0), await headOf(log, 12)];
    expect(compareHeads({ kept, shown, proof: [] })).toEqual({ kind: 'grown', by: 12 });
    expect(compareHeads({ kept, shown: kept, proof: [] })).toEqual({ kind: 'same' });
  });

  it('came late, and is the beginning of what is remembered', async () => {
    const [kept, shown] = [await headOf(log, 12), await headOf(log, 5)];
    expect(compareHeads({ kept, shown, proof: await proofOf(log, 5, 12) })).toEqual({ kind: 'older', by: 7 });
  });

  it.each([
    ['an entry rewritten before the remembered head', 'rewritten', 5, rewritten, 12, 5],
    ['an entry rewritten, the size the same', 'rewritten', 12, rewritten, 12, 12],
    ['entries taken away, and others since', 'shrunk', 12, rewritten, 5, 5],
    ['everything taken away', 'shrunk', 12, log, 0, 0],
  ] as const)('with %s is a split history: %s', async (_, how, keptSize, shownLog, shownSize, from) => {
    const [kept, shown] = [await headOf(log, keptSize), await headOf(shownLog, shownSize)];
    const proof = await proofOf(rewritten, from, 12);
    expect(compareHeads({ kept, shown, proof })).toEqual({ kind: 'split', how, kept, shown });
  });

  it('without a proof, or with one for other sizes, is a split history as long as nothing better is shown', async () => {
    const [kept, shown] = [await headOf(log, 5), await headOf(log, 12)];
    const split = { kind: 'split', how: 'unproven', kept, shown };
    expect(compareHeads({ kept, shown, proof: [] })).toEqual(split);
    expect(compareHeads({ kept, shown, proof: [...(await proofOf(log, 5, 12)), EMPTY_ROOT] })).toEqual(split);
    const none = await headOf(log, 0);
    expect(compareHeads({ kept: none, shown, proof: [EMPTY_ROOT] })).toEqual({ ...split, kept: none });
  });

  it('of no entries with a root of some is a split history', async () => {
    const [none, shown] = [await headOf(log, 0), { ...(await headOf(log, 3)), size: 0 }];
    const split = { kind: 'split', how: 'rewritten', kept: none, shown };
    expect(compareHeads({ kept: none, shown, proof: [] })).toEqual(split);
    const twisted = { kind: 'split', how: 'rewritten', kept: shown, shown: none };
    expect(compareHeads({ kept: shown, shown: none, proof: [] })).toEqual(twisted);
  });

  it('of another archive is not compared', async () => {
    const [kept, shown] = [await headOf(log, 5), { ...(await headOf(log, 5)), origin: 'other.example' }];
    const refused = { kind: 'malformed', pointer: 'origin', expected: ORIGIN, found: 'other.example' };
    expect(refusalOf(() => compareHeads({ kept, shown, proof: [] }))).toEqual(refused);
  });
});

describe('what somebody remembers of an archive', async () => {
  const archive = await newSigner(ORIGIN);
  const verifierKey = formatVerifierKey(archive.verifier);
  const noteOf = async (of: GrownLog, size: number) => signCheckpoint(await headOf(of, size), archive);

  it('begins with a head that its key signed', async () => {
    const note = await noteOf(log, 5);
    expect(await meetArchive(verifierKey, note)).toEqual({ verifierKey, note });
    const stranger = formatVerifierKey((await newSigner(ORIGIN)).verifier);
    expect(await meetArchive(stranger, note)).toBeNull();
  });

  it('moves on when the log has grown', async () => {
    const kept = { verifierKey, note: await noteOf(log, 5) };
    const note = await noteOf(log, 12);
    const answer = await checkHistory(kept, { note, proof: await proofOf(log, 5, 12) });
    expect(answer).toEqual({ standing: { kind: 'grown', by: 7 }, keep: { verifierKey, note } });
  });

  it('stays when the same head, a late one or another history is shown', async () => {
    const kept = { verifierKey, note: await noteOf(log, 9) };
    const shown = [
      { note: kept.note, proof: [] },
      { note: await noteOf(log, 4), proof: await proofOf(log, 4, 9) },
      { note: await noteOf(rewritten, 12), proof: await proofOf(rewritten, 9, 12) },
    ];
    const answers = await Promise.all(shown.map((one) => checkHistory(kept, one)));
    expect(answers.map(({ standing }) => standing)).toEqual([
      { kind: 'same' },
      { kind: 'older', by: 5 },
      { kind: 'split', how: 'rewritten', kept: await headOf(log, 9), shown: await headOf(rewritten, 12) },
    ]);
    expect(answers.map(({ keep }) => keep)).toEqual([kept, kept, kept]);
  });

  it('stays when what is shown is not signed with the archive’s key', async () => {
    const kept = { verifierKey, note: await noteOf(log, 5) };
    const note = await signCheckpoint(await headOf(log, 12), await newSigner(ORIGIN));
    const answer = await checkHistory(kept, { note, proof: await proofOf(log, 5, 12) });
    const why = { holds: false, reason: 'no-known-key' };
    expect(answer).toEqual({ standing: { kind: 'unsigned', why }, keep: kept });
  });

  it('is refused where somebody has altered it', async () => {
    const note = (await noteOf(log, 5)).replace('\n5\n', '\n4\n');
    const refused = { kind: 'unreadable', file: 'the remembered head', reason: `${ORIGIN} did not sign it` };
    const shown = { note: await noteOf(log, 12), proof: [] };
    expect(await refusalLater(() => checkHistory({ verifierKey, note }, shown))).toEqual(refused);
  });
});
