// The view of a piece: what lies where on the screen.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { View, barLength_mm } from '../../assets/js/board/view.js';

const near = (a, b) => assert.ok(Math.abs(a - b) < 1e-9, `${a} is not ${b}`);

function viewOf(width, height) {
  const view = new View();
  view.piece = { x: 0, y: 0, width: 100, height: 50 };
  view.resize(width, height);
  return view;
}

test('a place goes to the screen and comes back', () => {
  const view = viewOf(800, 600);
  view.zoomTo(7.3, { left: 31, top: 77 });
  const back = view.pageOf(view.screenOf({ x: 12.345, y: 6.789 }));
  near(back.x, 12.345);
  near(back.y, 6.789);
});

test('the whole piece fits with a margin, in the middle', () => {
  const view = viewOf(1000, 1000);
  const [corner, far] = [view.screenOf({ x: 0, y: 0 }), view.screenOf({ x: 100, y: 50 })];
  near(corner.left, 40);
  near(far.left, 960);
  near(corner.top + far.top, 1000);
});

test('what lies under the pointer stays there while zooming', () => {
  const view = viewOf(800, 600);
  const at = { left: 300, top: 250 };
  const before = view.pageOf(at);
  view.zoom(1.7, at);
  const after = view.pageOf(at);
  near(after.x, before.x);
  near(after.y, before.y);
});

test('the piece cannot be panned out of sight', () => {
  const view = viewOf(800, 600);
  view.pan(1e6, -1e6);
  const [corner, far] = [view.screenOf({ x: 0, y: 0 }), view.screenOf({ x: 100, y: 50 })];
  near(corner.left, 800 - 48);
  near(far.top, 48);
});

test('zoom ends at both ends', () => {
  const view = viewOf(800, 600);
  view.zoom(1e9);
  assert.equal(view.scale, 200);
  view.zoom(1e-9);
  // 36 px of margin on both sides of 800 px, for 100 mm.
  near(view.scale, (728 / 100) * 0.4);
});

test('a new size fits anew until the maker has moved, then keeps the middle', () => {
  const view = viewOf(800, 600);
  view.resize(400, 300);
  near(view.screenOf({ x: 50, y: 25 }).left, 200);
  view.zoomTo(20, { left: 200, top: 150 });
  const middle = view.pageOf({ left: 200, top: 150 });
  view.resize(600, 500);
  near(view.pageOf({ left: 300, top: 250 }).x, middle.x);
  assert.equal(view.scale, 20);
});

test('following moves only as far as needed', () => {
  const view = viewOf(800, 600);
  view.zoomTo(20);
  view.centre({ x: 50, y: 25 });
  const left = view.left;
  view.follow({ x: 52, y: 25 }, 70);
  assert.equal(view.left, left);
  view.follow({ x: 90, y: 25 }, 70);
  near(view.screenOf({ x: 90, y: 25 }).left, 730);
});

test('the scale bar is 1, 2 or 5 times a power of ten and as long as fits', () => {
  const cases = [[1, 140, 100], [3, 140, 20], [20, 140, 5], [100, 140, 1], [200, 140, 0.5]];
  for (const [scale, room, expected] of cases) near(barLength_mm(scale, room), expected);
});
