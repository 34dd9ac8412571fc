// What keys mean on the board, and which it leaves alone.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { SINGLE, commandOf } from '../../assets/js/board/keys.js';

test('tab is never taken, with nothing held or anything', () => {
  for (const held of [{}, { shiftKey: true }, { ctrlKey: true }]) {
    assert.equal(commandOf({ key: 'Tab', ...held }, true), undefined);
  }
});

test('single characters do nothing once switched off, arrows and enter still do', () => {
  for (const key of Object.keys(SINGLE)) {
    assert.ok(commandOf({ key }, true), key);
    assert.equal(commandOf({ key }, false), undefined, key);
  }
  assert.deepEqual(commandOf({ key: 'Enter' }, false), { name: 'act' });
  assert.deepEqual(commandOf({ key: 'ArrowUp', shiftKey: true }, false), { name: 'arrow', dx: 0, dy: -1, big: true });
});

test('keys held with ctrl, alt or meta stay the browser\'s', () => {
  for (const held of ['ctrlKey', 'altKey', 'metaKey']) {
    for (const key of ['0', '+', 'ArrowLeft', 'a', 'Enter']) {
      assert.equal(commandOf({ key, [held]: true }, true), undefined);
    }
  }
});

test('a capital is the same key, and names of objects are no keys', () => {
  assert.deepEqual(commandOf({ key: 'M' }, true), { name: 'tool', tool: 'move' });
  assert.equal(commandOf({ key: 'constructor' }, true), undefined);
});
