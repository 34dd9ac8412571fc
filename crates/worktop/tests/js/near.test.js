// Which stone is here, which lies that way.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import {
  boxAround, kindInZone, nearest, neighbour, overlapped, stoneAt, wholeRow, within,
} from '../../assets/js/board/near.js';
import { stonesOf } from '../../assets/js/board/stones.js';
import { nineStones } from './fixture.js';

const stones = stonesOf(nineStones());

test('a stone is hit inside its edge, and beside it only with a finger', () => {
  assert.equal(stoneAt(stones, { x: 10.9, y: 10 }), 0);
  assert.equal(stoneAt(stones, { x: 11.1, y: 10 }), -1);
  assert.equal(stoneAt(stones, { x: 11.1, y: 10 }, 0.2), 0);
});

test('between two stones the nearer edge is hit', () => {
  // Edges at 15 (radius 1) and 16.5 (radius 1.5).
  assert.equal(stoneAt(stones, { x: 15.7, y: 10 }, 2), 1);
  assert.equal(stoneAt(stones, { x: 15.8, y: 10 }, 2), 2);
});

test('arrows go to the neighbour and stop at the edge', () => {
  assert.equal(neighbour(stones, 4, 1, 0), 3);
  assert.equal(neighbour(stones, 4, -1, 0), 5);
  assert.equal(neighbour(stones, 4, 0, -1), 1);
  assert.equal(neighbour(stones, 4, 0, 1), 7);
  assert.equal(neighbour(stones, 0, -1, 0), -1);
});

test('in a honeycomb every stone can be reached by arrows', () => {
  const data = nineStones();
  const [x, y] = [[], []];
  for (let row = 0; row < 12; row++) {
    for (let k = 0; k < 12; k++) {
      x.push(k * 3 + (row % 2) * 1.5);
      y.push(row * 2.598);
    }
  }
  const zeros = x.map(() => 0);
  data.stones = { x, y, turn_deg: zeros, kind: zeros, zone: zeros, row: zeros, by_hand: zeros };
  const comb = stonesOf(data);
  const seen = new Set([0]);
  const open = [0];
  while (open.length > 0) {
    const from = open.pop();
    for (const [dx, dy] of [[1, 0], [-1, 0], [0, 1], [0, -1]]) {
      const to = neighbour(comb, from, dx, dy);
      if (to >= 0 && !seen.has(to)) {
        seen.add(to);
        open.push(to);
      }
    }
  }
  assert.equal(seen.size, 144);
});

test('the nearest stone is the nearest by its middle', () => {
  assert.equal(nearest(stones, { x: 13, y: 13 }), 4);
  assert.equal(nearest(stonesOf({ ...nineStones(), stones: { x: [], y: [], turn_deg: [], kind: [], zone: [], row: [], by_hand: [] } }), { x: 0, y: 0 }), -1);
});

test('touching is no overlap, a thousandth more is', () => {
  assert.equal(overlapped(stones, { x: 10, y: 12 }, 1, -1), -1);
  assert.equal(overlapped(stones, { x: 10, y: 11.999 }, 1, -1), 0);
  assert.equal(overlapped(stones, { x: 10, y: 10 }, 1, 0), -1);
});

test('a row ends at its zone, a kind too', () => {
  assert.deepEqual(wholeRow(stones, 0), [0, 1, 2]);
  assert.deepEqual(wholeRow(stones, 7), [6, 7, 8]);
  assert.deepEqual(kindInZone(stones, 2), [2, 4]);
});

test('a box holds the stones whose middles are in it', () => {
  assert.deepEqual(within(stones, { x: 9, y: 9, width: 6, height: 6 }), [0, 1, 4, 5]);
});

test('the box around stones takes in their edges', () => {
  assert.deepEqual(boxAround(stones, [0, 2]), { x: 9, y: 8.5, width: 10.5, height: 3 });
  assert.equal(boxAround(stones, []), undefined);
});
