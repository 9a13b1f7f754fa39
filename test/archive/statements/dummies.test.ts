import { describe, expect, it } from 'vitest';
import { partState } from '../../../src/archive/index.ts';
import type { Archive } from '../../../src/archive/index.ts';
import { laterRefusalOf } from '../later-refusal-of.ts';
import { dummyInForce, sendFile, stateIt, twoParties } from '../two-parties.ts';

const REASON = 'Two pages are missing.';

/** Each dummy by its name, with how it stands and who signed it. */
async function standings({ catalogue }: Archive, partId: string): Promise<readonly string[]> {
  const { dummies } = await partState(catalogue, partId);
  return dummies.map(({ file, standing, signatures }) =>
    [file.name, standing, ...signatures.map(({ party }) => party)].join(' '),
  );
}

describe('a dummy', () => {
  it('is in force when both sides have signed it, and then can only be replaced', async () => {
    const sides = await twoParties();
    const { archive, publisher, printer, part } = sides;
    const first = await sendFile(sides, printer, { kind: 'dummy', name: 'first.pdf' });
    expect(await standings(archive, part.id)).toEqual(['first.pdf sent']);
    await stateIt(archive, publisher, { kind: 'sign-off', fileId: first.id });
    expect(await standings(archive, part.id)).toEqual(['first.pdf half-signed publisher']);
    await stateIt(archive, printer, { kind: 'sign-off', fileId: first.id });
    expect(await standings(archive, part.id)).toEqual(['first.pdf in-force publisher printer']);
    const second = await sendFile(sides, printer, { kind: 'dummy', name: 'second.pdf' });
    expect(await laterRefusalOf(stateIt(archive, publisher, { kind: 'sign-off', fileId: second.id }))).toEqual({
      kind: 'out-of-step',
      what: 'a first dummy to sign',
      named: second.id,
      current: `${first.id} is in force and can only be replaced`,
    });
    expect(
      await laterRefusalOf(stateIt(archive, publisher, { kind: 'withdrawal', fileId: first.id, reason: REASON })),
    ).toEqual({ kind: 'out-of-step', what: 'the dummy', named: first.id, current: 'in force' });
    archive.close();
  });

  it('gives way to a new one when both have signed that, and not before', async () => {
    const sides = await twoParties();
    const { archive, publisher, printer, part } = sides;
    await dummyInForce(sides, 'first.pdf');
    const second = await sendFile(sides, printer, { kind: 'dummy', name: 'second.pdf' });
    const order = { kind: 'replacement', fileId: second.id, reason: 'The format has changed.' } as const;
    await stateIt(archive, printer, order);
    expect(await standings(archive, part.id)).toEqual([
      'first.pdf in-force publisher printer',
      'second.pdf half-signed printer',
    ]);
    expect((await partState(archive.catalogue, part.id)).replacements.map(({ file }) => file.id)).toEqual([second.id]);
    await stateIt(archive, publisher, order);
    expect(await standings(archive, part.id)).toEqual([
      'first.pdf replaced publisher printer',
      'second.pdf in-force printer publisher',
    ]);
    expect((await partState(archive.catalogue, part.id)).replacements).toEqual([]);
    archive.close();
  });

  it('that gave way can come back, by two new signatures', async () => {
    const sides = await twoParties();
    const { archive, publisher, printer, part } = sides;
    const first = await dummyInForce(sides, 'first.pdf');
    const second = await sendFile(sides, printer, { kind: 'dummy', name: 'second.pdf' });
    const replaceBy = async (fileId: string) => {
      const order = { kind: 'replacement', fileId, reason: 'It was better so.' } as const;
      await stateIt(archive, printer, order);
      await stateIt(archive, publisher, order);
    };
    await replaceBy(second.id);
    await replaceBy(first.id);
    expect(await standings(archive, part.id)).toEqual([
      'first.pdf in-force printer publisher',
      'second.pdf replaced printer publisher',
    ]);
    archive.close();
  });

  it('is taken back before it is in force, by the side that sent or signed it; sent again, it is another', async () => {
    const sides = await twoParties();
    const { archive, publisher, printer, part } = sides;
    const first = await sendFile(sides, printer, { kind: 'dummy', name: 'first.pdf' });
    const withdrawal = { kind: 'withdrawal', fileId: first.id, reason: REASON } as const;
    expect(await laterRefusalOf(stateIt(archive, publisher, withdrawal))).toEqual({
      kind: 'not-allowed',
      what: 'withdraw the dummy',
      missing: 'having sent or signed it',
    });
    await stateIt(archive, publisher, { kind: 'sign-off', fileId: first.id });
    await stateIt(archive, publisher, withdrawal);
    expect(await standings(archive, part.id)).toEqual(['first.pdf withdrawn']);
    expect(await laterRefusalOf(stateIt(archive, printer, { kind: 'sign-off', fileId: first.id }))).toEqual({
      kind: 'out-of-step',
      what: 'the dummy',
      named: first.id,
      current: 'withdrawn',
    });
    // The same bytes once more are a new dummy, on which nobody has signed yet.
    const again = await sendFile(sides, printer, { kind: 'dummy', name: 'first.pdf' });
    await stateIt(archive, printer, { kind: 'sign-off', fileId: again.id });
    expect(await standings(archive, part.id)).toEqual(['first.pdf withdrawn', 'first.pdf half-signed printer']);
    archive.close();
  });

  it('sent twice is one dummy: each side may have signed at another copy', async () => {
    const sides = await twoParties();
    const { archive, publisher, printer, part } = sides;
    const one = await sendFile(sides, printer, { kind: 'dummy', name: 'first.pdf' });
    await stateIt(archive, publisher, { kind: 'sign-off', fileId: one.id });
    const copy = await sendFile(sides, printer, { kind: 'dummy', name: 'first.pdf' });
    await stateIt(archive, printer, { kind: 'sign-off', fileId: copy.id });
    expect(await standings(archive, part.id)).toEqual(['first.pdf in-force publisher printer', 'first.pdf sent']);
    archive.close();
  });

  it('half signed as the first or as a replacement counts no more when another is in force', async () => {
    const sides = await twoParties();
    const { archive, publisher, printer, part } = sides;
    const first = await sendFile(sides, printer, { kind: 'dummy', name: 'first.pdf' });
    await stateIt(archive, publisher, { kind: 'sign-off', fileId: first.id });
    await dummyInForce(sides, 'second.pdf');
    expect(await standings(archive, part.id)).toEqual(['first.pdf sent', 'second.pdf in-force publisher printer']);
    const order = { kind: 'replacement', fileId: first.id, reason: REASON } as const;
    await stateIt(archive, printer, order);
    // The publisher's old sign-off is no word for this replacement.
    expect(await standings(archive, part.id)).toEqual([
      'first.pdf half-signed printer',
      'second.pdf in-force publisher printer',
    ]);
    archive.close();
  });
});
