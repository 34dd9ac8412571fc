// A small piece for the board's tests: nine stones in three rows, two kinds, two zones.

export const KINDS = [
  { name: 'sea glass', drawn_mm: 2, colour: '#3aa79b', finish: 'foiled', mark: 'A' },
  { name: 'lantern amber', drawn_mm: 3, colour: '#e8941c', finish: 'clear', mark: 'B' },
];

/** Stones at 10, 14, 18 mm right and 10, 14, 18 mm down; the middle row runs back. */
export function nineStones() {
  return {
    revision: 1, piece: 'badge', hash: '', width_mm: 28, height_mm: 28,
    blank: { colour: '#ffffff', path: 'M0 0H28V28H0Z' },
    zones: [{ name: 'sky', path: '' }, { name: 'water', path: '' }],
    kinds: KINDS,
    stones: {
      x: [10, 14, 18, 18, 14, 10, 10, 14, 18],
      y: [10, 10, 10, 14, 14, 14, 18, 18, 18],
      turn_deg: [0, 5, 0, 0, 0, 0, 0, 0, 0],
      kind: [0, 0, 1, 0, 1, 0, 0, 0, 0],
      zone: [0, 0, 0, 0, 0, 0, 1, 1, 1],
      row: [0, 0, 0, 1, 1, 1, 0, 0, 0],
      by_hand: [0, 0, 0, 0, 0, 1, 0, 0, 0],
    },
    bare_spots: [{ x: 12, y: 12, diameter_mm: 1.5 }],
    zone_spots: [{ x: 12, y: 12, diameter_mm: 1.5 }],
    stretches: [],
  };
}
