import assert from 'node:assert/strict';
import test from 'node:test';
import { disagreements, weekdays } from './weekdays.mjs';

const newYear = ['2026-01-01', 'New Year'];
const easterMonday = ['2026-04-06', 'Easter Monday'];

test('four years have 1043 weekdays', () => assert.equal(weekdays(2025, 2028).length, 1043));

test('the same days under other names agree', () =>
  assert.deepEqual(disagreements(new Map([newYear]), new Map([['2026-01-01', 'Neujahr']])), []));

test('a holiday that is missing is found', () =>
  assert.deepEqual(disagreements(new Map([newYear]), new Map([newYear, easterMonday])), [{ date: '2026-04-06', ours: undefined, theirs: 'Easter Monday' }]));

test('a holiday that is none is found', () =>
  assert.deepEqual(disagreements(new Map([newYear, easterMonday]), new Map([newYear])), [{ date: '2026-04-06', ours: 'Easter Monday', theirs: undefined }]));

test('a holiday a day too late is two disagreements', () =>
  assert.equal(disagreements(new Map([['2026-01-02', 'New Year']]), new Map([newYear])).length, 2));

test('weekends are not compared', () =>
  assert.deepEqual(disagreements(new Map(), new Map([['2026-10-03', 'Unity']])), []));
