// What the live region says of stones and acts.
/** @import { BoardData, PagePoint, Stones } from '../types.d.ts' */
/** @import { Tell } from './hand.js' */

/**
 * @param {Tell} tell
 * @param {BoardData} data
 * @param {Stones} stones
 * @returns {string}
 */
export function sentence(tell, data, stones) {
  const { stone = -1, n = 0 } = tell;
  const about = stone < 0 ? '' : stoneWords(stone, data, stones);
  switch (tell.word) {
    case 'stone': return about;
    case 'taken': return `there is a stone here already: ${about}`;
    case 'carrying': return `in hand: ${about}`;
    case 'put_down': return tell.at ? `put down ${placeWords(tell.at)}` : 'put down';
    case 'given_up': return 'put back where it was';
    case 'no_stone': return 'no stone under the cursor';
    case 'spot': return spotWords(tell.at, stone, stones);
    case 'pinned_already': return `set by hand already: ${about}`;
    case 'same_kind': return 'of this kind already';
    case 'chosen': return n === 0 ? 'no stone chosen' : `${counted(n)} chosen`;
    case 'changed': return `${counted(n)} changed`;
  }
}

/**
 * @param {number} i
 * @param {BoardData} data
 * @param {Stones} stones
 */
export function stoneWords(i, data, stones) {
  const place = stones.place[i] ?? 0;
  const row = stones.row[i] ?? -1;
  const zone = data.zones.length > 1 ? data.zones[stones.zone[i] ?? -1]?.name : undefined;
  return [
    place > 0 ? `stone ${place}` : 'new stone',
    data.kinds[stones.kind[i] ?? -1]?.name,
    zone,
    row >= 0 ? `row ${row + 1}` : undefined,
    placeWords({ x: stones.x[i] ?? 0, y: stones.y[i] ?? 0 }),
    stones.by_hand[i] ? 'set by hand' : undefined,
    stones.waiting[i] ? 'not kept yet' : undefined,
  ].filter(Boolean).join(', ');
}

/** @param {PagePoint} p */
export function placeWords(p) {
  return `${p.x.toFixed(1)} mm right, ${p.y.toFixed(1)} mm down`;
}

/**
 * @param {PagePoint | undefined} at
 * @param {number} overlapped
 * @param {Stones} stones
 */
function spotWords(at, overlapped, stones) {
  const where = at ? placeWords(at) : '';
  if (overlapped < 0) return where;
  return `${where}, overlaps stone ${stones.place[overlapped] || 'not numbered yet'}`;
}

/** @param {number} n */
function counted(n) {
  return n === 1 ? '1 stone' : `${n} stones`;
}
