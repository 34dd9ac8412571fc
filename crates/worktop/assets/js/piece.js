// The piece page: the board, what came out, and the options stay one, whatever is changed where.
/** @import { BoardData, Changed, HandChange, Problem } from './types.d.ts' */
import { mountBoard } from './board/mount.js';
import { differs } from './again.js';
import { isChanging, stand } from './change.js';
import { mountAll } from './main.js';
import { say } from './say.js';

/**
 * @param {HTMLElement} element
 */
export async function mount(element) {
  const here = `/orders/${element.dataset.order}/pieces/${element.dataset.piece}`;
  const stage = element.querySelector('[data-board]');
  if (!(stage instanceof HTMLElement)) return;
  const board = await mountBoard(stage);

  let newest = 0;
  const refresh = async () => {
    newest += 1;
    const mine = newest;
    const [data, facts, options] = await Promise.all([
      fetch(`${here}/board.json`, { headers: { accept: 'application/json' } }),
      fetch(`${here}/facts`),
      fetch(`${here}/options`),
    ]);
    if (mine !== newest) return;
    if (data.ok) board?.setData(/** @type {BoardData} */ (await data.json()));
    if (facts.ok) put(element.querySelector('.facts'), await facts.text());
    if (!options.ok) return;
    const html = await options.text();
    const part = element.querySelector('.options');
    if (mine === newest && part && !isHeld(part)) put(part, html);
  };
  document.addEventListener('stonelay:changed', refresh);

  stage.addEventListener('stonelay:change-by-hand', async (event) => {
    const change = /** @type {CustomEvent<HandChange>} */ (event).detail;
    const from = Number(/** @type {HTMLInputElement | null} */ (element.querySelector('input[name="from"]'))?.value);
    try {
      const answer = await fetch(`${here}/hand`, {
        method: 'POST',
        headers: { accept: 'application/json', 'content-type': 'application/json' },
        body: JSON.stringify({ from, ops: change.ops }),
      });
      if (!answer.ok) throw new Error((/** @type {Problem} */ (await answer.json())).title);
      /** @type {{ changed: Changed, board: BoardData }} */
      const { changed, board: data } = await answer.json();
      stand(changed);
      board?.setData(data, change.id);
      const facts = await fetch(`${here}/facts`);
      if (facts.ok) put(element.querySelector('.facts'), await facts.text());
    } catch (error) {
      board?.takeBack(change.id);
      say(`Not taken: ${error instanceof Error ? error.message : 'the worktop does not answer'}`, 'wrong');
    }
  });
}

/**
 * Whether something in a part of the page must not be taken from under the maker's fingers: it is
 * being typed, is on its way, or was refused and stands there to be mended.
 * @param {Element} part
 */
function isHeld(part) {
  if (isChanging() || part.querySelector('[aria-invalid="true"]')) return true;
  const field = document.activeElement;
  const text = field instanceof HTMLTextAreaElement || (field instanceof HTMLInputElement && field.type === 'text');
  return text && part.contains(field) && differs(field);
}

/**
 * Puts a part of the page in anew; what was open stays open, and the focus stays where it was.
 * @param {Element | null} part
 * @param {string} html
 */
function put(part, html) {
  if (!part) return;
  const focus = part.contains(document.activeElement) ? document.activeElement?.id : undefined;
  const open = [...part.querySelectorAll('details')].map((d) => d.open);
  const was = part.querySelectorAll('details').length;
  part.innerHTML = html;
  const now = [...part.querySelectorAll('details')];
  if (now.length === was) now.forEach((d, i) => { d.open = open[i] ?? d.open; });
  mountAll(part);
  if (focus) document.getElementById(focus)?.focus();
}
