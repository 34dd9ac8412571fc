// The server's columns as typed arrays, and the changes that wait for an answer worked into them.
/** @import { BoardData, HandOp, Stones } from '../types.d.ts' */

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
 * has laid anew. A stone that a change touches is `waiting`. Takes the time of one pass, however
 * many the changes are.
 * @param {BoardData} data
 * @param {readonly HandOp[]} ops
 * @returns {Stones}
 */
export function stonesAfter(data, ops) {
  const before = stonesOf(data);
  if (ops.length === 0) return before;
  const stones = withRoom(before, ops.filter((op) => 'set' in op).length);
  stones.n = before.n;
  const index = indexOf(before);
  const gone = new Set();
  for (const op of ops) {
    if ('clear' in op) {
      const i = index.get(placeKey(...op.clear));
      if (i !== undefined) gone.add(i);
      index.delete(placeKey(...op.clear));
    } else setOrRecolour(stones, data, op, index);
  }
  return mapColumns(stones, stones.n - gone.size, (column) => (
    /** @type {typeof column} */ (column.filter((_, i) => i < stones.n && !gone.has(i)))));
}

/**
 * Where each stone is found by its place.
 * @param {Stones} stones
 * @returns {Map<string, number>}
 */
export function indexOf(stones) {
  const index = new Map();
  for (let i = 0; i < stones.n; i++) index.set(placeKey(stones.x[i] ?? 0, stones.y[i] ?? 0), i);
  return index;
}

/**
 * Places that differ by less than a millionth of a millimetre are the same.
 * @param {number} x mm
 * @param {number} y mm
 */
export function placeKey(x, y) {
  return `${Math.round(x * 1e6)},${Math.round(y * 1e6)}`;
}

/**
 * @param {Stones} stones with room for one more
 * @param {BoardData} data
 * @param {Exclude<HandOp, { clear: unknown }>} op
 * @param {Map<string, number>} index
 */
function setOrRecolour(stones, data, op, index) {
  const kind = data.kinds.findIndex((k) => k.name === op.kind);
  if (kind < 0) return;
  const [x, y] = 'set' in op ? op.set : op.recolour;
  let i = index.get(placeKey(x, y));
  if (i === undefined) {
    if (!('set' in op)) return;
    i = stones.n++;
    index.set(placeKey(x, y), i);
    stones.x[i] = x;
    stones.y[i] = y;
    stones.zone[i] = stones.row[i] = -1;
  }
  stones.kind[i] = kind;
  stones.radius[i] = (data.kinds[kind]?.drawn_mm ?? 0) / 2;
  stones.waiting[i] = 1;
  if (!('set' in op)) return;
  stones.by_hand[i] = 1;
  if (op.turn_deg !== undefined) stones.turn_deg[i] = op.turn_deg;
}

/**
 * @param {Stones} s
 * @param {number} more
 */
function withRoom(s, more) {
  return mapColumns(s, s.n, (column) => {
    const Column = /** @type {new (n: number) => typeof column} */ (column.constructor);
    const longer = new Column(s.n + more);
    longer.set(column);
    return longer;
  });
}

/** @typedef {Float64Array | Float32Array | Int32Array | Uint8Array | Uint32Array} Column */

/**
 * @param {Stones} s
 * @param {number} n
 * @param {<T extends Column>(column: T) => T} f
 * @returns {Stones}
 */
function mapColumns(s, n, f) {
  return {
    n, x: f(s.x), y: f(s.y), turn_deg: f(s.turn_deg), kind: f(s.kind), zone: f(s.zone),
    row: f(s.row), by_hand: f(s.by_hand), waiting: f(s.waiting), place: f(s.place), radius: f(s.radius),
  };
}
