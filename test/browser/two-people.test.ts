import { beforeAll, describe } from 'vitest';
import { HAS_BROWSER } from './person.ts';
import { changes } from './two-people/changes.ts';
import { dummies } from './two-people/dummies.ts';
import { keys } from './two-people/keys.ts';
import { platesReleased } from './two-people/plates.ts';
import { proof } from './two-people/proof.ts';
import { rulings } from './two-people/rulings.ts';
import { begin } from './two-people/story.ts';

// One story from the first key to the pack that verifies: each part begins where the one before it ended.
describe.skipIf(!HAS_BROWSER)('two people and a book', () => {
  beforeAll(begin);
  describe('keys', keys);
  describe('the dummy', dummies);
  describe('findings', rulings);
  describe('evidence', proof);
  describe('plates', platesReleased);
  describe('changes', changes);
});
