// Changes by hand as they are sent: each act as the list of changes that it is.
/** @import { BoardData, HandOp, PagePoint, Stones } from '../types.d.ts' */

/** Places are sent with this many digits: a hundredth of what a hand can do. */
const DIGITS = 3;

/** The stones of a piece, and what is done to them. */
export class HandOps {
  /**
   * @param {BoardData} data
   * @param {Stones} stones
   */
  constructor(data, stones) {
    this.data = data;
    this.stones = stones;
  }

  /**
   * A stone away from where it is and there, turned so.
   * @param {number} stone
   * @param {PagePoint} to
   * @param {number} turn_deg
   * @returns {HandOp[]}
   */
  moved(stone, to, turn_deg) {
    const set = { set: pair(to), kind: this.kindOf(stone), turn_deg };
    return [{ clear: pair(this.placeOf(stone)) }, set];
  }

  /** @param {readonly number[]} stones @returns {HandOp[]} */
  takenAway(stones) {
    return stones.map((i) => ({ clear: pair(this.placeOf(i)) }));
  }

  /**
   * @param {readonly number[]} stones
   * @param {string} kind
   * @returns {HandOp[]}
   */
  recoloured(stones, kind) {
    return stones.map((i) => ({ recolour: pair(this.placeOf(i)), kind }));
  }

  /** @param {PagePoint} at @param {string} kind @returns {HandOp[]} */
  added(at, kind) {
    return [{ set: pair(at), kind }];
  }

  /** A stone kept exactly where it is. @param {number} stone @returns {HandOp[]} */
  pinned(stone) {
    return [{ set: pair(this.placeOf(stone)), kind: this.kindOf(stone), turn_deg: this.turnOf(stone) }];
  }

  /** @param {number} i @returns {PagePoint} */
  placeOf(i) {
    return { x: this.stones.x[i] ?? 0, y: this.stones.y[i] ?? 0 };
  }

  /** @param {number} i */
  turnOf(i) {
    return this.stones.turn_deg[i] ?? 0;
  }

  /** @param {number} i */
  kindOf(i) {
    return this.data.kinds[this.stones.kind[i] ?? 0]?.name ?? '';
  }
}

/** @param {PagePoint} p @returns {PagePoint} */
export function rounded(p) {
  return { x: Number(p.x.toFixed(DIGITS)), y: Number(p.y.toFixed(DIGITS)) };
}

/** @param {PagePoint} p @returns {[number, number]} */
function pair(p) {
  return [p.x, p.y];
}
