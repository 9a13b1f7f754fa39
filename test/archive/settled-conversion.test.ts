import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openKeptFacts } from '../../src/archive/kept-facts.ts';
import type { KeptFacts } from '../../src/archive/kept-facts.ts';
import { settledConversion } from '../../src/archive/settled-conversion.ts';
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

test('a conversion learned again with a page changed is the earlier one; another conversion, another dummy are not', async () => {
  const of = (dummy: string) => ({ dummy, tolerances: DEFAULT_TOLERANCES });
  expect(learnedAgain).not.toEqual(learned);
  expect(await settledConversion(kept, of('a'), learned, BOOK)).toEqual(learned);
  expect(await settledConversion(kept, of('a'), learnedAgain, BOOK)).toEqual(learned);
  expect(await settledConversion(kept, of('a'), otherwise, BOOK)).toEqual(otherwise);
  expect(await settledConversion(kept, of('a'), learnedAgain, BOOK)).toEqual(learned);
  expect(await settledConversion(kept, of('b'), learnedAgain, BOOK)).toEqual(learnedAgain);
});

test('with nothing kept the conversion is what was learned', async () => {
  const nothing = await openKeptFacts(null, 'renderer');
  const given = { dummy: 'a', tolerances: DEFAULT_TOLERANCES };
  await settledConversion(nothing, given, learned, BOOK);
  expect(await settledConversion(nothing, given, learnedAgain, BOOK)).toBe(learnedAgain);
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
