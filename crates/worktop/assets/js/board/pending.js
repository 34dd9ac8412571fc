// Changes that the server has not answered yet. The board shows them at once; an answer settles
// one, a failed post takes it back.
/** @import { HandChange, HandOp } from '../types.d.ts' */

/** The changes under way, oldest first. */
export class Pending {
  /** @type {HandChange[]} */
  #waiting = [];
  #last_id = 0;

  /**
   * @param {HandOp[]} ops
   * @returns {HandChange}
   */
  add(ops) {
    const change = { id: ++this.#last_id, ops };
    this.#waiting.push(change);
    return change;
  }

  /**
   * Answered or taken back: no longer waiting. Without an id, none is.
   * @param {number} [id]
   */
  drop(id) {
    this.#waiting = id === undefined ? [] : this.#waiting.filter((change) => change.id !== id);
  }

  /** All that waits, in the order of making. @returns {HandOp[]} */
  ops() {
    return this.#waiting.flatMap((change) => change.ops);
  }
}
