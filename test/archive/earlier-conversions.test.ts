import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openKeptFacts } from '../../src/archive/kept-facts.ts';
import type { KeptFacts } from '../../src/archive/kept-facts.ts';
import { earlierConversions } from '../../src/archive/earlier-conversions.ts';
import { conversionStep, fitBookConversion } from '../../src/comparing/index.ts';
import { DEFAULT_TOLERANCES } from '../../src/model/index.ts';
import { convert, pictureSignature } from '../comparing/pairing/made-up-pages.ts';

const BOOK = Array.from({ length: 40 }, (_, seed) => pictureSignature(seed));
const asConverted = BOOK.map((dummy, seed) => ({ dummy, revision: convert(dummy, seed) }));
const learned = fitBookConversion(asConverted);
/** One page of forty was exchanged for another picture. */
const learnedAgain = fitBookConversion(asConverted.with(7, { dummy: BOOK[7]!, revision: pictureSignature(900) }));
const otherwise = fitBookConversion(BOOK.map((dummy) => ({ dummy, revision: dummy })));

let folder = '';
let kept: KeptFacts;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'witnessleaf-'));
  kept = await openKeptFacts(folder, 'renderer');
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const of = (dummy: string) => ({ dummy, tolerances: DEFAULT_TOLERANCES });

test('a conversion learned again with a page changed has the earlier one beside it; another conversion, another dummy do not', async () => {
  expect(learnedAgain).not.toEqual(learned);
  expect(await earlierConversions(kept, of('a'), learned, BOOK)).toEqual([]);
  expect(await earlierConversions(kept, of('a'), learned, BOOK)).toEqual([]);
  expect(await earlierConversions(kept, of('a'), learnedAgain, BOOK)).toEqual([learned]);
  expect(await earlierConversions(kept, of('a'), otherwise, BOOK)).toEqual([]);
  expect(await earlierConversions(kept, of('a'), learned, BOOK)).toEqual([learnedAgain]);
  expect(await earlierConversions(kept, of('b'), learnedAgain, BOOK)).toEqual([]);
});

test('with nothing kept there is none', async () => {
  const nothing = await openKeptFacts(null, 'renderer');
  await earlierConversions(nothing, of('a'), learned, BOOK);
  expect(await earlierConversions(nothing, of('a'), learnedAgain, BOOK)).toEqual([]);
});

test('the eldest that says the same is remembered, however many others are learned after it', async () => {
  const nudged = (knots: number): Float64Array => {
    const map = Float64Array.from(learned);
    for (let knot = 60; knot < 81; knot++) map[knot]! += knots;
    return map;
  };
  for (let n = 0; n < 12; n++) await earlierConversions(kept, of('c'), nudged(n * 0.01), BOOK);
  for (let n = 1; n < 12; n++) await earlierConversions(kept, of('c'), nudged(n * 5), BOOK);
  const remembered = await earlierConversions(kept, of('c'), nudged(0.2), BOOK);
  expect(remembered).toHaveLength(7);
  expect(remembered[0]).toEqual(learned);
});

test('two conversions are as far apart as the colour of the book on which they differ most', () => {
  expect(conversionStep(learned, learned, BOOK)).toBe(0);
  const lighter = Float64Array.from(learned);
  // the knots of the tone correction are plain steps of L*
  for (let knot = 60; knot < 81; knot++) lighter[knot]! += 3;
  expect(conversionStep(learned, lighter, BOOK)).toBeCloseTo(3, 4);
  expect(conversionStep(lighter, learned, BOOK)).toBeCloseTo(3, 4);
  expect(conversionStep(learned, otherwise, [])).toBe(0);
});
