// What the hand does with each tool, by tap and by key.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { Hand } from '../../assets/js/board/hand.js';
import { sentence } from '../../assets/js/board/say.js';
import { stonesAfter, stonesOf } from '../../assets/js/board/stones.js';
import { nineStones } from './fixture.js';

function handWith(tool) {
  const data = nineStones();
  const hand = new Hand(data, stonesOf(data));
  hand.take(tool, { x: 14, y: 14 });
  return hand;
}

test('a tap with each tool makes its change', () => {
  const cases = [
    ['look', undefined],
    ['take_away', [{ clear: [14, 10] }]],
    ['recolour', [{ recolour: [14, 10], kind: 'lantern amber' }]],
    ['pin', [{ set: [14, 10], kind: 'sea glass', turn_deg: 5 }]],
  ];
  for (const [tool, ops] of cases) {
    const hand = handWith(tool);
    hand.kind = 1;
    assert.deepEqual(hand.tap({ x: 14, y: 10 }, 1, false).ops, ops, tool);
  }
});

test('a stone picked up is nudged by tenths and by millimetres, and put down', () => {
  const hand = handWith('move');
  hand.goTo(1);
  assert.equal(hand.act().tell.word, 'carrying');
  hand.step(1, 0, false);
  hand.step(0, 1, true);
  const { ops } = hand.act();
  assert.deepEqual(ops, [{ clear: [14, 10] }, { set: [14.1, 11], kind: 'sea glass', turn_deg: 5 }]);
  assert.equal(hand.carried, undefined);
});

test('ten nudges of a tenth are one millimetre exactly', () => {
  const hand = handWith('move');
  hand.pickUp(1);
  for (let k = 0; k < 10; k++) hand.step(1, 0, false);
  assert.equal(hand.carried.x, 15);
});

test('a stone picked up by a tap is put down by the next tap', () => {
  const hand = handWith('move');
  hand.tap({ x: 10, y: 10 }, 0, false);
  const { ops } = hand.tap({ x: 22.00049, y: 5 }, -1, false);
  assert.deepEqual(ops, [{ clear: [10, 10] }, { set: [22, 5], kind: 'sea glass', turn_deg: 0 }]);
});

test('escape puts back without a change, and so does putting down in place', () => {
  const hand = handWith('move');
  hand.pickUp(0);
  hand.step(1, 0, true);
  assert.equal(hand.giveUp().ops, undefined);
  assert.equal(hand.carried, undefined);
  hand.pickUp(0);
  assert.equal(hand.act().ops, undefined);
});

test('a new turn alone is a change', () => {
  const hand = handWith('move');
  hand.pickUp(0);
  assert.deepEqual(hand.putDown({ x: 10, y: 10 }, 45).ops?.[1], { set: [10, 10], kind: 'sea glass', turn_deg: 45 });
});

test('adding begins in the middle, refuses a taken place, and sets a stone on a free one', () => {
  const hand = handWith('add');
  assert.deepEqual(hand.at, { x: 14, y: 14 });
  assert.equal(hand.act().tell.word, 'taken');
  hand.goToPlace({ x: 12, y: 12 });
  assert.deepEqual(hand.act().ops, [{ set: [12, 12], kind: 'sea glass' }]);
});

test('an overlap is told while carrying', () => {
  const hand = handWith('move');
  hand.pickUp(0);
  hand.carry({ x: 13, y: 10 });
  assert.equal(hand.overlap(), 1);
  const { tell } = hand.step(1, 0, false);
  assert.equal(sentence(tell, hand.data, hand.stones), '13.1 mm right, 10.0 mm down, overlaps stone 2');
});

test('arrows pan until there is a cursor', () => {
  const hand = handWith('look');
  assert.equal(hand.step(1, 0, false), undefined);
  hand.goTo(0);
  assert.equal(hand.step(1, 0, false)?.tell?.stone, 1);
});

test('chosen stones are recoloured together, those of the kind already left out', () => {
  const hand = handWith('look');
  hand.choose([0, 1, 2]);
  hand.kind = 1;
  assert.deepEqual(hand.recolour(hand.chosen).ops, [
    { recolour: [10, 10], kind: 'lantern amber' }, { recolour: [14, 10], kind: 'lantern amber' },
  ]);
  assert.equal(hand.takeAway(hand.chosen).ops?.length, 3);
  assert.equal(hand.chosen.size, 0);
});

test('choosing a chosen stone lets it go', () => {
  const hand = handWith('look');
  hand.choose([4]);
  hand.choose([4]);
  assert.equal(hand.chosen.size, 0);
});

test('cursor, chosen and carried stones keep their places when stones before them go', () => {
  const hand = handWith('move');
  hand.choose([4]);
  hand.pickUp(4);
  const data = nineStones();
  hand.rebind(data, stonesAfter(data, [{ clear: [10, 10] }]));
  assert.deepEqual([...hand.chosen], [3]);
  assert.equal(hand.carried?.stone, 3);
  assert.equal(hand.cursor, 3);
});

test('a carried stone that is gone is no longer carried', () => {
  const hand = handWith('move');
  hand.pickUp(0);
  const data = nineStones();
  hand.rebind(data, stonesAfter(data, [{ clear: [10, 10] }]));
  assert.equal(hand.carried, undefined);
});

test('a stone is told with number, kind, zone, row and place', () => {
  const hand = handWith('look');
  const words = sentence({ word: 'stone', stone: 5 }, hand.data, hand.stones);
  assert.equal(words, 'stone 6, sea glass, sky, row 2, 10.0 mm right, 14.0 mm down, set by hand');
});
