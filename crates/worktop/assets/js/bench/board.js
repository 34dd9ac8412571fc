// The board in place of the close-up, where the browser can show it: what is set in full, the row at
// hand ringed.
/** @import { BoardData } from '../types.d.ts' */
import { Board } from '../board/board.js';

/** Room round the row, in diameters of the largest stone. */
const ROOM = 3;

/** One board lives on from press to press. @type {{ host: HTMLElement, board: Board, data: BoardData } | undefined} */
let shown;

/** @param {HTMLElement} now the part of the page with the picture */
export async function showBoard(now) {
  const box = now.querySelector('.bench-close-up');
  if (!(box instanceof HTMLElement) || !box.dataset.board || !Board.possible()) return;
  try {
    shown ??= await open(box, box.dataset.board);
  } catch {
    // The picture stays.
    return;
  }
  if (!box.isConnected) return;
  for (const image of box.querySelectorAll('img')) image.hidden = true;
  box.append(shown.host);
  box.classList.add('has-board');
  const places = (box.dataset.places ?? '').split(' ').map(Number);
  const set = shown.data.stretches.flatMap((s) => s.order).slice(0, Number(box.dataset.set));
  const { board, data } = shown;
  board.show(new Set([...set, ...places]));
  board.highlight(places);
  requestAnimationFrame(() => board.fit(around(data, places)));
}

/**
 * @param {HTMLElement} box
 * @param {string} url
 */
async function open(box, url) {
  const answer = await fetch(url, { headers: { accept: 'application/json' } });
  if (!answer.ok) throw new Error('no board');
  /** @type {BoardData} */
  const data = await answer.json();
  const host = document.createElement('div');
  host.className = 'bench-board';
  host.setAttribute('role', 'img');
  host.setAttribute('aria-label', box.querySelector('img')?.alt ?? '');
  box.append(host);
  const board = new Board(host);
  board.setData(data);
  board.layOver({ marks: true });
  return { host, board, data };
}

/**
 * The box of a row with room round it.
 * @param {BoardData} data
 * @param {number[]} places
 */
function around(data, places) {
  const room = ROOM * Math.max(1, ...data.kinds.map((k) => k.drawn_mm));
  const x = places.map((p) => data.stones.x[p - 1] ?? 0);
  const y = places.map((p) => data.stones.y[p - 1] ?? 0);
  const [left, top] = [Math.min(...x) - room, Math.min(...y) - room];
  return { x: left, y: top, width: Math.max(...x) + room - left, height: Math.max(...y) + room - top };
}
