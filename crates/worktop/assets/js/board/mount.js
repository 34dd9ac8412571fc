// Puts the drawing board in place of the server's picture, where the browser can show it.
/** @import { BoardData } from '../types.d.ts' */
import { Board } from './board.js';
import { button, make, newId } from './dom.js';
import { kindPanel, placePanel, severalPanel } from './hand_panels.js';
import { keysPanel, layersPanel, toolsPanel, viewBar } from './panels.js';
import { PieceBoard } from './piece_board.js';
import { TrueSize, cardDialog } from './true_size.js';
import { WORDS } from './words.js';

/** @type {WeakMap<Element, PieceBoard>} */
const boards = new WeakMap();

/**
 * The board of an element that is mounted: for `setData` and `takeBack`.
 * @param {Element} element
 */
export const boardOf = (element) => boards.get(element);

/**
 * Mount the board in an element with `data-board`, the URL of its data. What stands in the element
 * is the picture for those without script; it stays if the board cannot be shown.
 * @param {HTMLElement} element
 * @returns {Promise<PieceBoard | undefined>}
 */
export async function mountBoard(element) {
  const url = element.dataset.board;
  if (url === undefined) throw new Error('a board needs `data-board`, the URL of its data');
  if (!Board.possible()) return note(element, WORDS.no_webgl);
  const data = await read(url);
  if (!data) return note(element, WORDS.not_read);
  const picture = [...element.children];
  const stage = make('div', { class: 'board-stage' });
  const work = make('div', { class: 'board-work' }, stage);
  element.append(work);
  try {
    const piece = new PieceBoard(element, stage, data);
    furnish(piece, stage, work);
    for (const part of picture) part.setAttribute('hidden', '');
    boards.set(element, piece);
    element.dispatchEvent(new CustomEvent('stonelay:board-ready', { bubbles: true }));
    return piece;
  } catch (error) {
    // The maker keeps the picture; whoever mends the shaders finds the cause in the console.
    console.error(error);
    work.remove();
    return note(element, WORDS.no_webgl);
  }
}

/**
 * @param {PieceBoard} piece
 * @param {HTMLElement} stage
 * @param {HTMLElement} work
 */
function furnish(piece, stage, work) {
  const about = make('p', { id: newId('about'), hidden: true }, WORDS.described);
  const canvas = piece.board.stage.top;
  canvas.tabIndex = 0;
  canvas.setAttribute('role', 'application');
  canvas.setAttribute('aria-roledescription', WORDS.role);
  canvas.setAttribute('aria-describedby', about.id);
  const name = () => canvas.setAttribute('aria-label', `${WORDS.name}: ${piece.data.piece}, ${piece.hand.stones.n} stones`);
  name();
  piece.board.addEventListener('stones', name);

  const said = make('p', { class: 'board-said', role: 'status' });
  piece.addEventListener('said', (e) => {
    said.textContent = /** @type {CustomEvent<string>} */ (e).detail;
  });

  const measured = make('p', { class: 'board-measured' });
  const true_size = new TrueSize(() => {
    piece.command({ name: 'true_size' });
    tell();
  });
  const tell = () => {
    const is_true = Math.abs(piece.board.view.scale / true_size.scale() - 1) < 1e-6;
    const size = is_true ? WORDS.true_size_now : zoomWords(piece.board.view.scale / true_size.scale());
    const text = `${size} · ${true_size.note()}`;
    if (measured.textContent !== text) measured.textContent = text;
  };
  piece.true_scale = () => true_size.scale();
  piece.board.addEventListener('view', tell);
  tell();
  const dialog = cardDialog(true_size);
  const calibrate = button(WORDS.calibrate, () => dialog.showModal());

  stage.append(viewBar(piece));
  work.prepend(toolsPanel(piece));
  work.append(said,
    make('div', { class: 'board-side' }, kindPanel(piece), placePanel(piece), severalPanel(piece), layersPanel(piece), keysPanel(piece)),
    make('div', { class: 'board-foot' }, measured, calibrate), about, dialog);
}

/** @param {number} times */
function zoomWords(times) {
  return `${Number(times.toPrecision(2))} × ${WORDS.true_size_now}`;
}

/**
 * @param {string} url
 * @returns {Promise<BoardData | undefined>}
 */
async function read(url) {
  try {
    const answer = await fetch(url, { headers: { accept: 'application/json' } });
    return answer.ok ? await answer.json() : undefined;
  } catch {
    return undefined;
  }
}

/**
 * @param {HTMLElement} element
 * @param {string} text
 */
function note(element, text) {
  element.append(make('p', { class: 'board-note', role: 'status' }, text));
  return undefined;
}
