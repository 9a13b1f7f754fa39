import { expect, test } from 'vitest';
import { Refusal } from '../../src/model/index.ts';
import { faultProblem, problemOf } from '../../src/service/problems.ts';

const REFUSALS = {
  malformed: [new Refusal('malformed', { pointer: '/a', expected: 'b', found: 'c' }), 400],
  unidentified: [new Refusal('unidentified', { reason: 'nobody' }), 401],
  'not-allowed': [new Refusal('not-allowed', { what: 'a', missing: 'b' }), 403],
  'not-found': [new Refusal('not-found', { what: 'a' }), 404],
  'out-of-step': [new Refusal('out-of-step', { what: 'a', named: 'b', current: 'c' }), 409],
  unsettled: [new Refusal('unsettled', { what: 'a', findings: ['f1'] }), 409],
  'too-large': [new Refusal('too-large', { what: 'a', limit: 1, found: 2, unit: 'bytes' }), 413],
  unreadable: [new Refusal('unreadable', { file: 'a', reason: 'b' }), 422],
  unproven: [new Refusal('unproven', { what: 'a', checks: [{ name: 'b', expected: 'c', found: 'd' }] }), 422],
  unavailable: [new Refusal('unavailable', { what: 'a', reason: 'b' }), 503],
} as const;

test.each(Object.entries(REFUSALS))('%s keeps its name, its words and what it carries', (kind, [refusal, status]) => {
  const { details, message } = refusal as Refusal;
  const carried = kind === 'unidentified' ? {} : details;
  const problem = problemOf(refusal, false);
  expect(problem).toMatchObject({
    status,
    body: { type: `/api/problems/${kind}`, status, detail: message, ...carried },
  });
});

test('a state that moved on is 412 to whoever named what they saw, and 409 to everybody else', () => {
  const [refusal] = REFUSALS['out-of-step'];
  expect([problemOf(refusal, true)?.status, problemOf(refusal, false)?.status]).toEqual([412, 409]);
});

test('a bug is no problem of its own: nothing of it is told but a number to quote', () => {
  expect(problemOf(new TypeError('secret'), false)).toBe(null);
  expect(problemOf('thrown', false)).toBe(null);
  expect(faultProblem('ab12')).toEqual({
    status: 500,
    headers: {},
    body: {
      type: '/api/problems/fault',
      title: 'A fault in the program itself',
      status: 500,
      detail: 'Please quote the number ab12 to whoever runs this service.',
      number: 'ab12',
    },
  });
});
