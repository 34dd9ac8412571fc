// Which stone is here, which lies that way: plain scans of the columns, once for a tap or a key. At
// 100,000 stones a scan takes half a millisecond (10 ms the first time); an index would cost more.
/** @import { PageBox, PagePoint, Stones } from '../types.d.ts' */

/**
 * The stone under a place, or -1. A finger is wide: a stone whose edge is within `slop_mm` counts,
 * the nearest edge first.
 * @param {Stones} s
 * @param {PagePoint} at
 * @param {number} [slop_mm]
 */
export function stoneAt(s, at, slop_mm = 0) {
  let best = -1;
  let best_edge = slop_mm;
  for (let i = 0; i < s.n; i++) {
    const reach = num(s.radius, i) + best_edge;
    const dx = num(s.x, i) - at.x;
    const dy = num(s.y, i) - at.y;
    if (dx > reach || dx < -reach || dy > reach || dy < -reach) continue;
    const edge = Math.sqrt(dx * dx + dy * dy) - num(s.radius, i);
    if (edge <= best_edge) {
      best_edge = edge;
      best = i;
    }
  }
  return best;
}

/**
 * The stone whose centre is nearest, or -1 if there is none.
 * @param {Stones} s
 * @param {PagePoint} at
 */
export function nearest(s, at) {
  let best = -1;
  let best_d2 = Infinity;
  for (let i = 0; i < s.n; i++) {
    const d2 = (num(s.x, i) - at.x) ** 2 + (num(s.y, i) - at.y) ** 2;
    if (d2 < best_d2) {
      best_d2 = d2;
      best = i;
    }
  }
  return best;
}

/**
 * The neighbour of a stone in a direction: of the stones within 60° of it, the one that is
 * nearest when a step sideways counts double. -1 at the edge.
 * @param {Stones} s
 * @param {number} from
 * @param {number} dx -1, 0 or 1, right
 * @param {number} dy -1, 0 or 1, down
 */
export function neighbour(s, from, dx, dy) {
  const x0 = num(s.x, from);
  const y0 = num(s.y, from);
  let best = -1;
  let best_cost = Infinity;
  for (let i = 0; i < s.n; i++) {
    const rx = num(s.x, i) - x0;
    const ry = num(s.y, i) - y0;
    const along = rx * dx + ry * dy;
    if (along <= 1e-6) continue;
    const aside = Math.abs(rx * dy - ry * dx);
    if (aside > along * Math.sqrt(3) + 1e-6) continue;
    const cost = Math.sqrt(along * along + 4 * aside * aside);
    if (cost < best_cost - 1e-9) {
      best_cost = cost;
      best = i;
    }
  }
  return best;
}

/**
 * The first stone that a stone of this radius here would overlap, or -1.
 * @param {Stones} s
 * @param {PagePoint} at
 * @param {number} radius_mm
 * @param {number} except a stone that does not count, -1 for none
 */
export function overlapped(s, at, radius_mm, except) {
  for (let i = 0; i < s.n; i++) {
    if (i === except) continue;
    const reach = num(s.radius, i) + radius_mm - 1e-6;
    if ((num(s.x, i) - at.x) ** 2 + (num(s.y, i) - at.y) ** 2 < reach * reach) return i;
  }
  return -1;
}

/**
 * The stones whose centres lie in a box.
 * @param {Stones} s
 * @param {PageBox} box
 */
export function within(s, box) {
  return pick(s, (i) => {
    const x = num(s.x, i) - box.x;
    const y = num(s.y, i) - box.y;
    return x >= 0 && y >= 0 && x <= box.width && y <= box.height;
  });
}

/**
 * The row of a stone.
 * @param {Stones} s
 * @param {number} of
 */
export function wholeRow(s, of) {
  if (num(s.row, of) < 0) return [of];
  return pick(s, (i) => s.row[i] === s.row[of] && s.zone[i] === s.zone[of]);
}

/**
 * All stones of a stone's kind in its zone.
 * @param {Stones} s
 * @param {number} of
 */
export function kindInZone(s, of) {
  return pick(s, (i) => s.kind[i] === s.kind[of] && s.zone[i] === s.zone[of]);
}

/**
 * The box around these stones, edges included; undefined for none.
 * @param {Stones} s
 * @param {Iterable<number>} indices
 * @returns {PageBox | undefined}
 */
export function boxAround(s, indices) {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const i of indices) {
    const [x, y, r] = [num(s.x, i), num(s.y, i), num(s.radius, i)];
    left = Math.min(left, x - r);
    right = Math.max(right, x + r);
    top = Math.min(top, y - r);
    bottom = Math.max(bottom, y + r);
  }
  return left > right ? undefined : { x: left, y: top, width: right - left, height: bottom - top };
}

/**
 * @param {Stones} s
 * @param {(i: number) => boolean} keep
 */
function pick(s, keep) {
  /** @type {number[]} */
  const found = [];
  for (let i = 0; i < s.n; i++) if (keep(i)) found.push(i);
  return found;
}

/**
 * @param {ArrayLike<number>} column
 * @param {number} i
 * @returns {number}
 */
function num(column, i) {
  return /** @type {number} */ (column[i]);
}
