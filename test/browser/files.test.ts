import { beforeAll, describe } from 'vitest';
import { bookAndLook } from './files/book-and-look.ts';
import { openDesk } from './files/desk.ts';
import { plates } from './files/plates.ts';
import { sending } from './files/sending.ts';
import { sheets } from './files/sheets.ts';
import { work } from './files/work.ts';
import { HAS_BROWSER } from './person.ts';

// One service for all; each has a part of the title to itself.
describe.skipIf(!HAS_BROWSER)('files', () => {
  beforeAll(openDesk);
  describe('the work on a file', work);
  describe('the book and the close look', bookAndLook);
  describe('imposed sheets', sheets);
  describe('plates of each ink', plates);
  describe('a file on its way', sending);
});
