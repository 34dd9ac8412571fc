// True size, from a bank card of 85.60 mm.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import {
  calibrationFrom, calibrationNote, keepCalibration, readCalibration, trueScale,
} from '../../assets/js/board/calibration.js';

function storage() {
  const kept = new Map();
  return { getItem: (key) => kept.get(key) ?? null, setItem: (key, value) => kept.set(key, value), kept };
}

test('a card that spans 428 px makes 5 px of a millimetre', () => {
  assert.equal(trueScale(calibrationFrom(428, 1, '2026-01-01'), 1), 5);
});

test('zooming the browser does not change the size on the screen', () => {
  const calibration = calibrationFrom(428, 2, '2026-01-01');
  assert.equal(trueScale(calibration, 3) * 3, trueScale(calibration, 2) * 2);
});

test('what is kept is read again', () => {
  const store = storage();
  const calibration = calibrationFrom(400, 1.5, '2026-01-01');
  assert.ok(keepCalibration(store, calibration));
  assert.deepEqual(readCalibration(store), calibration);
});

test('what cannot be a measure is none', () => {
  for (const text of ['', 'null', '{', '{"device_px_per_mm":0,"pixel_ratio":1,"day":""}', '[]', '{"device_px_per_mm":"5"}']) {
    assert.equal(readCalibration({ getItem: () => text }), undefined, text);
  }
});

test('a browser that forbids storage leaves the screen unmeasured', () => {
  const forbidden = { getItem() { throw new Error('no'); }, setItem() { throw new Error('no'); } };
  assert.equal(readCalibration(forbidden), undefined);
  assert.equal(keepCalibration(forbidden, calibrationFrom(400, 1, '2026-01-01')), false);
});

test('the note says when it was measured and whether the zoom has changed', () => {
  const calibration = calibrationFrom(400, 1, '2026-01-01');
  assert.match(calibrationNote(undefined, 1), /not measured/);
  assert.equal(calibrationNote(calibration, 1), 'measured with a bank card on 2026-01-01');
  assert.match(calibrationNote(calibration, 2), /another zoom/);
});
