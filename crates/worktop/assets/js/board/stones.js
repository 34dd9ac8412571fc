// The server's columns as typed arrays, and the changes that wait for an answer worked into them.
/** @import { BoardData, HandOp, Stones } from '../types.d.ts' */

/** Two places closer than this, mm, are the same: the lay rounds to 1e-9 mm. */
const SAME_MM = 1e-6;

/**
 * @param {BoardData} data
 * @returns {Stones}
 */
export function stonesOf(data) {
  const s = data.stones;
  const n = s.x.length;
  const place = new Uint32Array(n);
  for (let i = 0; i < n; i++) place[i] = i + 1;
  const kind = Int32Array.from(s.kind);
  return {
    n, place, kind,
    x: Float64Array.from(s.x),
    y: Float64Array.from(s.y),
    turn_deg: Float32Array.from(s.turn_deg),
    zone: Int32Array.from(s.zone),
    row: Int32Array.from(s.row),
    by_hand: Uint8Array.from(s.by_hand),
    waiting: new Uint8Array(n),
    radius: Float32Array.from(kind, (k) => (data.kinds[k]?.drawn_mm ?? 0) / 2),
  };
}

/**
 * The stones as they will be once these changes are in: at once on the board, before the server
 * has laid anew. A stone that a change touches is `waiting`.
 * @param {BoardData} data
 * @param {readonly HandOp[]} ops
 * @returns {Stones}
 */
export function stonesAfter(data, ops) {
  let stones = stonesOf(data);
  for (const op of ops) stones = after(stones, data, op);
  return stones;
}

/**
 * @param {Stones} stones
 * @param {BoardData} data
 * @param {HandOp} op
 * @returns {Stones}
 */
function after(stones, data, op) {
  if ('clear' in op) {
    const i = indexAt(stones, ...op.clear);
    return i < 0 ? stones : without(stones, i);
  }
  const kind = data.kinds.findIndex((k) => k.name === op.kind);
  if (kind < 0) return stones;
  if ('recolour' in op) {
    const i = indexAt(stones, ...op.recolour);
    if (i >= 0) setKind(stones, data, i, kind);
    return stones;
  }
  let i = indexAt(stones, ...op.set);
  const grown = i < 0 ? withOneMore(stones, ...op.set) : stones;
  if (i < 0) i = grown.n - 1;
  setKind(grown, data, i, kind);
  grown.by_hand[i] = 1;
  if (op.turn_deg !== undefined) grown.turn_deg[i] = op.turn_deg;
  return grown;
}

/**
 * The stone whose centre is exactly here, or -1.
 * @param {Stones} stones
 * @param {number} x
 * @param {number} y
 */
export function indexAt(stones, x, y) {
  for (let i = 0; i < stones.n; i++) {
    if (Math.abs(num(stones.x, i) - x) < SAME_MM && Math.abs(num(stones.y, i) - y) < SAME_MM) return i;
  }
  return -1;
}

/**
 * @param {Stones} stones
 * @param {BoardData} data
 * @param {number} i
 * @param {number} kind
 */
function setKind(stones, data, i, kind) {
  stones.kind[i] = kind;
  stones.radius[i] = (data.kinds[kind]?.drawn_mm ?? 0) / 2;
  stones.waiting[i] = 1;
}

/**
 * @param {Stones} s
 * @param {number} gone
 * @returns {Stones}
 */
function without(s, gone) {
  /** @template {Float64Array | Float32Array | Int32Array | Uint8Array | Uint32Array} T @param {T} c @returns {T} */
  const cut = (c) => /** @type {T} */ (c.filter((_, i) => i !== gone));
  return mapColumns(s, s.n - 1, cut);
}

/**
 * @param {Stones} s
 * @param {number} x
 * @param {number} y
 * @returns {Stones}
 */
function withOneMore(s, x, y) {
  /** @template {Float64Array | Float32Array | Int32Array | Uint8Array | Uint32Array} T @param {T} c @returns {T} */
  const grow = (c) => {
    const Column = /** @type {new (n: number) => T} */ (c.constructor);
    const longer = new Column(c.length + 1);
    longer.set(c);
    return longer;
  };
  const grown = mapColumns(s, s.n + 1, grow);
  grown.x[s.n] = x;
  grown.y[s.n] = y;
  grown.zone[s.n] = -1;
  grown.row[s.n] = -1;
  return grown;
}

/**
 * @param {Stones} s
 * @param {number} n
 * @param {<T extends Float64Array | Float32Array | Int32Array | Uint8Array | Uint32Array>(column: T) => T} f
 * @returns {Stones}
 */
function mapColumns(s, n, f) {
  return {
    n, x: f(s.x), y: f(s.y), turn_deg: f(s.turn_deg), kind: f(s.kind), zone: f(s.zone),
    row: f(s.row), by_hand: f(s.by_hand), waiting: f(s.waiting), place: f(s.place), radius: f(s.radius),
  };
}

/**
 * @param {ArrayLike<number>} column
 * @param {number} i
 * @returns {number}
 */
function num(column, i) {
  return /** @type {number} */ (column[i]);
}
