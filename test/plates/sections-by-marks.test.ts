import { expect, test } from 'vitest';
import { sectionsByMarks } from '../../src/plates/sections-by-marks.ts';

const marks = (places: readonly (number | null)[], told: readonly number[] = []) =>
  sectionsByMarks(places.map((fromHeadMm, index) => ({ fromHeadMm, isToldByPages: told.includes(index + 1) })));

test('marks that step down from the head say which section each is', () => {
  expect(marks([24, 34, 44, 54])).toEqual([1, 2, 3, 4]);
  expect(marks([24, 44, 34, 54])).toEqual([1, 3, 2, 4]);
  expect(marks([34, 24])).toEqual([2, 1]);
  expect(marks([54, 24.3, 34.2, 44])).toEqual([4, 1, 2, 3]);
});

test('where pages tell that they climb, they climb', () => {
  expect(marks([54, 44, 34, 24], [1, 4])).toEqual([1, 2, 3, 4]);
  expect(marks([54, 34, 44, 24], [1, 4])).toEqual([1, 3, 2, 4]);
});

test('behind the lowest they begin again at the head', () => {
  expect(marks([24, 34, 44, 24, 34])).toEqual([1, 2, 3, 4, 5]);
  expect(marks([24, 44, 34, 24, 34])).toEqual([1, 3, 2, 4, 5]);
  expect(marks([24, 24, 44, 24, 34])).toEqual([null, null, null, null, null]);
});

test('a section whose mark was not read is told nothing of, the others are', () => {
  expect(marks([null, 34, 54, 44, 64], [2])).toEqual([null, 2, 4, 3, 5]);
});

test('a section that comes twice has its mark twice', () => {
  expect(marks([24, 34, 34, 54])).toEqual([1, 2, 2, 4]);
  expect(marks([24, 34, 44, 34])).toEqual([1, 2, 3, 2]);
});

test('a mark of no section of the book is told as that', () => {
  expect(marks([24, 34, 44, 64])).toEqual([1, 2, 3, 5]);
  expect(marks([24, 44, 34, 84])).toEqual([null, null, null, null]);
});

test('what does not stand in steps tells nothing, and one mark alone neither', () => {
  expect(marks([24, 34, 49])).toEqual([null, null, null]);
  expect(marks([24, null, null])).toEqual([null, null, null]);
  expect(marks([null, null])).toEqual([null, null]);
});
