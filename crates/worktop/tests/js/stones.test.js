// Changes that wait for an answer, worked into the stones.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { Pending } from '../../assets/js/board/pending.js';
import { indexOf, placeKey, stonesAfter } from '../../assets/js/board/stones.js';
import { nineStones } from './fixture.js';

test('a stone taken away is gone and the others keep their numbers', () => {
  const after = stonesAfter(nineStones(), [{ clear: [14, 10] }]);
  assert.equal(after.n, 8);
  assert.deepEqual([...after.place], [1, 3, 4, 5, 6, 7, 8, 9]);
  assert.equal(indexOf(after).has(placeKey(14, 10)), false);
});

test('a recoloured stone has the size of its new kind and waits', () => {
  const after = stonesAfter(nineStones(), [{ recolour: [10, 10], kind: 'lantern amber' }]);
  assert.equal(after.kind[0], 1);
  assert.equal(after.radius[0], 1.5);
  assert.deepEqual([...after.waiting], [1, 0, 0, 0, 0, 0, 0, 0, 0]);
  assert.equal(after.by_hand[0], 0);
});

test('a stone set where none was is new, without a number', () => {
  const after = stonesAfter(nineStones(), [{ set: [22, 22], kind: 'sea glass', turn_deg: 30 }]);
  assert.equal(after.n, 10);
  assert.deepEqual([after.x[9], after.y[9], after.place[9], after.by_hand[9], after.turn_deg[9]], [22, 22, 0, 1, 30]);
});

test('setting a stone where it is pins it', () => {
  const after = stonesAfter(nineStones(), [{ set: [10, 10], kind: 'sea glass', turn_deg: 0 }]);
  assert.equal(after.n, 9);
  assert.equal(after.by_hand[0], 1);
});

test('a change of a place without stone changes nothing', () => {
  const after = stonesAfter(nineStones(), [{ clear: [1, 1] }, { recolour: [1, 1], kind: 'sea glass' }]);
  assert.equal(after.n, 9);
  assert.ok(after.waiting.every((w) => w === 0));
});

test('an answer settles its own change only, and what was taken back is gone', () => {
  const pending = new Pending();
  const first = pending.add([{ clear: [1, 1] }]);
  const second = pending.add([{ clear: [2, 2] }]);
  assert.notEqual(first.id, second.id);
  pending.drop(first.id);
  assert.deepEqual(pending.ops(), [{ clear: [2, 2] }]);
  pending.drop();
  assert.deepEqual(pending.ops(), []);
});

test('a stone set and taken away again leaves no trace', () => {
  const after = stonesAfter(nineStones(), [{ set: [22, 22], kind: 'sea glass' }, { clear: [22, 22] }]);
  assert.equal(after.n, 9);
  assert.deepEqual([...after.place], [1, 2, 3, 4, 5, 6, 7, 8, 9]);
});

test('a stone moved away and another put in its place are both there', () => {
  const ops = [
    { clear: [10, 10] }, { set: [22, 22], kind: 'sea glass', turn_deg: 0 },
    { clear: [14, 10] }, { set: [10, 10], kind: 'lantern amber', turn_deg: 0 },
  ];
  const after = stonesAfter(nineStones(), ops);
  assert.equal(after.n, 9);
  const index = indexOf(after);
  assert.equal(after.kind[index.get(placeKey(10, 10))], 1);
  assert.ok(index.has(placeKey(22, 22)) && !index.has(placeKey(14, 10)));
});

test('columns all have the length that n says', () => {
  const after = stonesAfter(nineStones(), [{ set: [10, 10], kind: 'sea glass' }, { clear: [14, 10] }]);
  for (const [name, column] of Object.entries(after)) if (name !== 'n') assert.equal(column.length, after.n, name);
});
