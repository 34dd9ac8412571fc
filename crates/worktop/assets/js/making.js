// Something is being worked out: shows how far it is, and what came of it as soon as it is there.
/** @import { Progress } from './types.d.ts' */

/** Between two looks, ms. */
const WAIT = 250;

/**
 * @param {HTMLElement} element
 */
export function mount(element) {
  const bar = element.querySelector('progress');
  const text = element.querySelector('[data-progress-text]');
  const doing = (text?.textContent ?? '').replace(/\.$/, '');
  const look = async () => {
    const answer = await fetch(element.dataset.progress ?? '', { headers: { accept: 'application/json' } });
    /** @type {Progress} */
    const progress = answer.ok ? await answer.json() : { what: '', done: 0, total: 0, over: true };
    if (progress.over) {
      location.reload();
      return;
    }
    if (bar && progress.total > 0) bar.value = (100 * progress.done) / progress.total;
    if (text && progress.what) text.textContent = `${doing}: ${progress.what}.`;
    setTimeout(look, WAIT);
  };
  setTimeout(look, WAIT);
}
