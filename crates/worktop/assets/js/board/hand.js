// What the hand does on the board: the tool, the stone under the cursor, the stone being carried
// and the chosen ones. Knows stones and places, no screen: pointer, touch and keys all end here.
/** @import { BoardData, HandOp, PagePoint, Stones, Tool } from '../types.d.ts' */
import { HandOps, rounded } from './hand_ops.js';
import { neighbour, nearest, overlapped, stoneAt } from './near.js';
import { indexOf, placeKey } from './stones.js';

/**
 * What came of an act: changes to send, and what to tell (a word of `words.js` and its values).
 * @typedef {{ ops?: HandOp[], tell?: Tell }} Outcome
 * @typedef {{ word: 'stone' | 'taken' | 'carrying' | 'put_down' | 'given_up' | 'no_stone' | 'spot'
 *   | 'pinned_already' | 'same_kind' | 'chosen' | 'changed', stone?: number, n?: number,
 *   at?: PagePoint }} Tell
 */

/** One hand on one board. */
export class Hand {
  /** @type {Tool} */
  tool = 'look';
  /** The kind that adding and recolouring use, an index. */
  kind = 0;
  /** True while taps choose stones instead of only looking at them. */
  choosing = false;
  /** The stone the cursor is on, or -1. */
  cursor = -1;
  /** Where the cursor is: a stone's centre, or a free place when adding. @type {PagePoint | undefined} */
  at = undefined;
  /** @type {{ stone: number, x: number, y: number } | undefined} */
  carried = undefined;
  /** A new set at each change, so that whoever draws it sees that it has changed. @type {ReadonlySet<number>} */
  chosen = new Set();

  /**
   * @param {BoardData} data
   * @param {Stones} stones
   */
  constructor(data, stones) {
    this.data = data;
    this.stones = stones;
    this.ops = new HandOps(data, stones);
  }

  /**
   * Take over stones laid anew. Cursor and chosen stones stay where they were, by place.
   * @param {BoardData} data
   * @param {Stones} stones
   */
  rebind(data, stones) {
    if (this.carried || this.chosen.size > 0) this.#follow(stones);
    this.data = data;
    this.stones = stones;
    this.ops = new HandOps(data, stones);
    this.kind = Math.min(this.kind, Math.max(0, data.kinds.length - 1));
    if (!this.at) return;
    this.cursor = this.carried?.stone ?? (this.tool === 'add' ? -1 : nearest(stones, this.at));
    if (!this.carried && this.cursor >= 0) this.at = this.ops.placeOf(this.cursor);
  }

  /**
   * @param {Tool} tool
   * @param {PagePoint} middle where adding begins if the cursor is nowhere
   */
  take(tool, middle) {
    this.carried = undefined;
    this.tool = tool;
    if (tool === 'add') {
      this.at ??= rounded(middle);
      this.cursor = -1;
    } else if (this.cursor < 0 && this.at) {
      this.cursor = nearest(this.stones, this.at);
      this.at = this.cursor < 0 ? undefined : this.ops.placeOf(this.cursor);
    }
  }

  /**
   * A tap or click.
   * @param {PagePoint} at
   * @param {number} stone the stone hit, or -1
   * @param {boolean} shift whether it adds to what is chosen
   * @returns {Outcome}
   */
  tap(at, stone, shift) {
    if (this.carried) return this.putDown(at);
    if (this.tool === 'add') {
      this.at = rounded(at);
      return this.act();
    }
    if (stone < 0) return {};
    this.#stand(stone);
    if (shift || (this.tool === 'look' && this.choosing)) return this.choose([stone]);
    return this.act();
  }

  /**
   * Use the tool where the cursor is.
   * @returns {Outcome}
   */
  act() {
    if (this.carried) return this.putDown(this.carried);
    if (this.tool === 'add') return this.#add();
    const stone = this.cursor;
    if (stone < 0) return { tell: { word: 'no_stone' } };
    switch (this.tool) {
      case 'look': return this.choosing ? this.choose([stone]) : { tell: { word: 'stone', stone } };
      case 'move': return this.pickUp(stone);
      case 'take_away': return this.takeAway([stone]);
      case 'recolour': return this.recolour([stone]);
      case 'pin': return this.#pin(stone);
    }
  }

  /**
   * One step of an arrow key. Undefined when the arrow is free to pan.
   * @param {number} dx
   * @param {number} dy
   * @param {boolean} big
   * @returns {Outcome | undefined}
   */
  step(dx, dy, big) {
    const nudge_mm = big ? 1 : 0.1;
    if (this.carried) {
      this.carry({ x: this.carried.x + dx * nudge_mm, y: this.carried.y + dy * nudge_mm });
      return { tell: this.#spotTell(this.carried) };
    }
    if (this.tool === 'add' && this.at) {
      this.at = rounded({ x: this.at.x + dx * nudge_mm, y: this.at.y + dy * nudge_mm });
      return { tell: this.#spotTell(this.at) };
    }
    if (this.cursor < 0) return undefined;
    const next = neighbour(this.stones, this.cursor, dx, dy);
    if (next >= 0) this.#stand(next);
    return { tell: { word: 'stone', stone: this.cursor } };
  }

  /**
   * Put the cursor on a stone, or on a free place when adding.
   * @param {number} stone
   * @returns {Outcome}
   */
  goTo(stone) {
    if (stone < 0 || stone >= this.stones.n || this.carried) return {};
    this.#stand(stone);
    return { tell: { word: 'stone', stone } };
  }

  /**
   * Put the adding cursor, or the carried stone, at a place.
   * @param {PagePoint} at
   * @returns {Outcome}
   */
  goToPlace(at) {
    if (this.carried) this.carry(at);
    else this.at = rounded(at);
    return { tell: this.#spotTell(rounded(at)) };
  }

  /** Escape: gives up what is carried, then the chosen, then the cursor. @returns {Outcome} */
  giveUp() {
    if (this.carried) {
      this.carried = undefined;
      return { tell: { word: 'given_up' } };
    }
    if (this.chosen.size > 0) return this.letGo();
    if (this.tool !== 'add') {
      this.cursor = -1;
      this.at = undefined;
    }
    return {};
  }

  /**
   * @param {number} stone
   * @returns {Outcome}
   */
  pickUp(stone) {
    this.#stand(stone);
    this.carried = { stone, ...this.ops.placeOf(stone) };
    return { tell: { word: 'carrying', stone } };
  }

  /** @param {PagePoint} at where the carried stone is now */
  carry(at) {
    if (this.carried) this.carried = { stone: this.carried.stone, ...rounded(at) };
  }

  /**
   * @param {PagePoint} to
   * @param {number} [turn_deg] its own turn if not given
   * @returns {Outcome}
   */
  putDown(to, turn_deg) {
    if (!this.carried) return {};
    const { stone } = this.carried;
    const from = this.ops.placeOf(stone);
    const at = rounded(to);
    const turn = turn_deg ?? this.ops.turnOf(stone);
    this.carried = undefined;
    if (Math.hypot(at.x - from.x, at.y - from.y) < 1e-3 && turn === this.ops.turnOf(stone)) {
      return { tell: { word: 'given_up' } };
    }
    this.at = at;
    return { ops: this.ops.moved(stone, at, turn), tell: { word: 'put_down', at } };
  }

  /**
   * @param {Iterable<number>} stones
   * @returns {Outcome}
   */
  takeAway(stones) {
    const ops = this.ops.takenAway([...stones]);
    if (ops.length === 0) return { tell: { word: 'no_stone' } };
    this.chosen = new Set();
    return { ops, tell: { word: 'changed', n: ops.length } };
  }

  /**
   * @param {Iterable<number>} stones
   * @returns {Outcome}
   */
  recolour(stones) {
    const other = [...stones].filter((i) => this.stones.kind[i] !== this.kind);
    if (other.length === 0) return { tell: { word: 'same_kind' } };
    const kind = this.data.kinds[this.kind]?.name ?? '';
    const ops = this.ops.recoloured(other, kind);
    return { ops, tell: { word: 'changed', n: ops.length } };
  }

  /**
   * Choose these stones too; one that is chosen already, alone, is let go.
   * @param {readonly number[]} stones
   * @returns {Outcome}
   */
  choose(stones) {
    const [only] = stones;
    const chosen = new Set([...this.chosen, ...stones]);
    if (stones.length === 1 && only !== undefined && this.chosen.has(only)) chosen.delete(only);
    this.chosen = chosen;
    return { tell: { word: 'chosen', n: chosen.size } };
  }

  /** No stone is chosen any more. @returns {Outcome} */
  letGo() {
    this.chosen = new Set();
    return { tell: { word: 'chosen', n: 0 } };
  }

  /** The stone that the carried or new stone would overlap, or -1. */
  overlap() {
    if (this.carried) {
      const { stone } = this.carried;
      return overlapped(this.stones, this.carried, this.stones.radius[stone] ?? 0, stone);
    }
    if (this.tool !== 'add' || !this.at) return -1;
    return overlapped(this.stones, this.at, (this.data.kinds[this.kind]?.drawn_mm ?? 0) / 2, -1);
  }

  /** @returns {Outcome} */
  #add() {
    const kind = this.data.kinds[this.kind];
    if (!this.at || !kind) return {};
    const stone = stoneAt(this.stones, this.at);
    if (stone >= 0) return { tell: { word: 'taken', stone } };
    return { ops: this.ops.added(this.at, kind.name), tell: { word: 'changed', n: 1 } };
  }

  /**
   * @param {number} stone
   * @returns {Outcome}
   */
  #pin(stone) {
    if (this.stones.by_hand[stone]) return { tell: { word: 'pinned_already', stone } };
    return { ops: this.ops.pinned(stone), tell: { word: 'changed', n: 1 } };
  }

  /** Find what is chosen and carried again among other stones. @param {Stones} stones */
  #follow(stones) {
    const old = this.stones;
    const index = indexOf(stones);
    const again = (/** @type {number} */ i) => index.get(placeKey(old.x[i] ?? 0, old.y[i] ?? 0));
    this.chosen = new Set([...this.chosen].flatMap((i) => again(i) ?? []));
    if (!this.carried) return;
    const stone = again(this.carried.stone);
    this.carried = stone === undefined ? undefined : { ...this.carried, stone };
  }

  /** @param {PagePoint} at @returns {Tell} */
  #spotTell(at) {
    const stone = this.overlap();
    return stone < 0 ? { word: 'spot', at } : { word: 'spot', at, stone };
  }

  /** @param {number} stone */
  #stand(stone) {
    this.cursor = stone;
    this.at = this.ops.placeOf(stone);
  }
}
