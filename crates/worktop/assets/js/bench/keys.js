// A foot pedal is a keyboard: one key is Done, another is Back. Can be switched off.
import { remember, remembered } from './device.js';

const DONE = new Set(['Enter', ' ', 'PageDown']);
const BACK = new Set(['Backspace', 'PageUp']);

/** @param {HTMLElement} element */
export function watchKeys(element) {
  const box = element.querySelector('#bench-keys');
  if (!(box instanceof HTMLInputElement)) return;
  box.checked = remembered('keys') !== 'off';
  box.addEventListener('change', () => remember('keys', box.checked ? 'on' : 'off'));
  document.addEventListener('keydown', (event) => {
    if (!box.checked || event.ctrlKey || event.altKey || event.metaKey || event.defaultPrevented) return;
    const act = DONE.has(event.key) ? 'done' : BACK.has(event.key) ? 'back' : undefined;
    if (!act || ownsKey(event.target, event.key)) return;
    event.preventDefault();
    // A pedal that is held down is one press.
    if (event.repeat) return;
    const button = element.querySelector(`[data-act="${act}"]:not(:disabled)`);
    if (button instanceof HTMLButtonElement) button.form?.requestSubmit(button);
  });
}

/**
 * Whether what has the focus does something with this key itself.
 * @param {EventTarget | null} target
 * @param {string} key
 */
function ownsKey(target, key) {
  if (!(target instanceof Element)) return false;
  if (target.closest('input, textarea, select, canvas, dialog')) return true;
  const paging = key === 'PageDown' || key === 'PageUp' || key === 'Backspace';
  return !paging && target.closest('a, button, summary') !== null;
}
