// What is marked on each stone, as numbers for the graphics card.
/** @import { BoardData, PlaceRange, Stones } from '../types.d.ts' */

/** Bits of a stone's flags; from bit 8 on stands the number of its stretch. */
export const FLAG = { chosen: 1, by_hand: 2, waiting: 4, ghost: 8, marked: 16, joins_next: 32 };

/** What is marked on a board. */
export class Marks {
  /** Shown in full, the others faintly; all in full if nothing is given. @type {PlaceRange | ReadonlySet<number> | undefined} */
  range;
  /** Ringed, place numbers. @type {ReadonlySet<number>} */
  marked = new Set();
  /** Ringed as chosen, indices. @type {ReadonlySet<number>} */
  chosen = new Set();
  /** The number of the stretch of each place number. */
  #stretch_of = new Uint32Array();

  /** @param {BoardData} data */
  setData(data) {
    this.#stretch_of = stretchOf(data);
  }

  /**
   * @param {Stones} stones
   * @returns {Uint32Array} two for each stone: bits of `FLAG` with its stretch, and its place number
   */
  flags(stones) {
    const flags = new Uint32Array(2 * stones.n);
    for (let i = 0; i < stones.n; i++) {
      const place = stones.place[i] ?? 0;
      const ghost = this.range !== undefined && !within(this.range, place);
      flags[2 * i] = ((this.#stretch_of[place] ?? 0) << 8)
        | (this.chosen.has(i) ? FLAG.chosen : 0) | (this.marked.has(place) ? FLAG.marked : 0)
        | (stones.by_hand[i] ? FLAG.by_hand : 0) | (stones.waiting[i] ? FLAG.waiting : 0)
        | (ghost ? FLAG.ghost : 0) | (joinsNext(stones, i) ? FLAG.joins_next : 0);
      flags[2 * i + 1] = place;
    }
    return flags;
  }
}

/** @param {PlaceRange | ReadonlySet<number>} range @param {number} place */
function within(range, place) {
  return 'first' in range ? place >= range.first && place <= range.last : range.has(place);
}

/** @param {BoardData} data */
function stretchOf(data) {
  const numbers = new Uint32Array(data.stones.x.length + 1);
  for (const { number, order } of data.stretches) for (const place of order) numbers[place] = number;
  return numbers;
}

/** @param {Stones} s @param {number} i */
function joinsNext(s, i) {
  return (s.row[i] ?? -1) >= 0 && s.row[i] === s.row[i + 1] && s.zone[i] === s.zone[i + 1];
}
