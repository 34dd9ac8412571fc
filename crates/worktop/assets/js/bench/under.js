// The piece at true size under a clear blank: measured by a bank card, moved but not zoomed, locked
// against touches.
import { TrueSize, cardDialog } from '../board/true_size.js';
import { keepAwake } from './awake.js';

/** How long the lock is held to open it, ms: longer than a blank put down by accident. */
const HOLD_MS = 1500;

/** @param {HTMLElement} element */
export function mount(element) {
  const picture = element.querySelector('.bench-sheet img');
  const measured = element.querySelector('.bench-measured');
  const actions = element.querySelector('.actions');
  if (!(picture instanceof HTMLImageElement) || !measured || !actions) throw new Error('the sheet needs its picture');
  const size = new TrueSize(() => draw());
  const draw = () => {
    picture.style.width = `${Number(element.dataset.widthMm) * size.scale()}px`;
    picture.style.height = `${Number(element.dataset.heightMm) * size.scale()}px`;
    measured.textContent = `True size: ${size.note()}.`;
  };
  draw();
  const dialog = cardDialog(size);
  element.append(dialog);
  actions.append(
    button('Measure this screen', () => dialog.showModal()),
    button('Lock against touches', () => element.append(lock())),
  );
  const awake = document.createElement('p');
  awake.className = 'hint bench-awake no-print';
  element.append(awake);
  keepAwake(element);
}

/** @param {string} text @param {() => void} press */
function button(text, press) {
  const made = document.createElement('button');
  made.type = 'button';
  made.className = 'bench-act';
  made.textContent = text;
  made.addEventListener('click', press);
  return made;
}

/** A pane over everything that takes every touch; a button on it, held for a while, opens it. */
function lock() {
  const pane = document.createElement('dialog');
  pane.className = 'bench-lock';
  pane.setAttribute('aria-label', 'locked against touches');
  const open = button('Locked: hold to open', () => {});
  let timer = 0;
  const stop = () => clearTimeout(timer);
  const start = () => {
    stop();
    timer = window.setTimeout(() => pane.remove(), HOLD_MS);
  };
  open.addEventListener('pointerdown', start);
  for (const name of ['pointerup', 'pointercancel', 'pointerleave']) open.addEventListener(name, stop);
  // A keyboard is no accident: Enter opens at once.
  open.addEventListener('keydown', (event) => event.key === 'Enter' && pane.remove());
  pane.append(open);
  requestAnimationFrame(() => pane.showModal());
  pane.addEventListener('cancel', (event) => event.preventDefault());
  return pane;
}
