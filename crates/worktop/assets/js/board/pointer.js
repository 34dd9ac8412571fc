// What the board's pointers do with the hand: tap, carry, draw a rectangle, pan, zoom.
/** @import { ScreenPoint } from '../types.d.ts' */
/** @import { Owner } from './gestures.js' */
/** @import { PieceBoard } from './piece_board.js' */
import { within } from './near.js';

/**
 * @param {PieceBoard} piece
 * @returns {Owner}
 */
export function pointerOwner(piece) {
  const { board, hand } = piece;
  let grasped = -1;
  const stoneAt = (/** @type {ScreenPoint} */ at, /** @type {PointerEvent} */ e) => (
    board.stoneAt(at, e.pointerType !== 'mouse'));

  const carryTo = (/** @type {ScreenPoint} */ from, /** @type {ScreenPoint} */ to) => {
    if (!hand.carried) piece.perform(hand.pickUp(grasped));
    // An answer may come while carrying and give the stone another index.
    const stone = hand.carried?.stone ?? grasped;
    const { x, y } = hand.stones;
    hand.carry({
      x: (x[stone] ?? 0) + (to.left - from.left) / board.view.scale,
      y: (y[stone] ?? 0) + (to.top - from.top) / board.view.scale,
    });
    piece.showCarried();
  };

  return {
    press: (at, e) => {
      if (e.shiftKey || (hand.choosing && hand.tool === 'look')) return 'frame';
      grasped = stoneAt(at, e);
      return hand.tool === 'move' && grasped >= 0 && !hand.carried ? 'carry' : 'pan';
    },
    pan: (right, down) => board.look((view) => view.pan(right, down)),
    zoom: (factor, at) => board.look((view) => view.zoom(factor, at)),
    hover: (at) => board.glint.pointAt(at.left / board.view.width_px, at.top / board.view.height_px),
    drag: (drag, from, to) => {
      if (drag === 'frame') piece.frame = { from, to };
      else carryTo(from, to);
      board.wake();
    },
    drop: (drag, from, to) => {
      if (drag === 'frame') return chooseWithin(piece, from, to);
      carryTo(from, to);
      if (hand.carried) piece.perform(hand.putDown(hand.carried));
    },
    cancel: () => {
      if (!piece.frame) return piece.giveUp();
      piece.frame = undefined;
      board.wake();
    },
    tap: (at, e) => piece.perform(hand.tap(board.view.pageOf(at), stoneAt(at, e), e.shiftKey)),
  };
}

/**
 * @param {PieceBoard} piece
 * @param {ScreenPoint} from
 * @param {ScreenPoint} to
 */
function chooseWithin(piece, from, to) {
  const [a, b] = [piece.board.view.pageOf(from), piece.board.view.pageOf(to)];
  piece.frame = undefined;
  const box = {
    x: Math.min(a.x, b.x), y: Math.min(a.y, b.y), width: Math.abs(a.x - b.x), height: Math.abs(a.y - b.y),
  };
  piece.perform(piece.hand.choose(within(piece.hand.stones, box)));
}
